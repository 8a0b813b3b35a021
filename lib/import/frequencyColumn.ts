import type { Caveat } from '../model/caveat';
import { makeCaveat } from '../words/makeCaveat';
import { type ColumnLook, isEvenGrid, octavesOf } from './columnLook';

/** Rows from which on their order tells columns apart. */
const ENOUGH = 4;

/** Which column holds the frequencies. */
export interface FrequencyColumn {
  /** None where there is no column to choose from. */
  taken: number | undefined;
  /** A column that only counts the rows. */
  counter?: number;
  /** What could also have been meant. */
  doubt?: Caveat;
}

/**
 * Find the frequencies by what the numbers look like: they rise from row to row, or fall. Where several columns do, those
 * are it that go in even steps or ratios, or span twice the octaves, and rise rather than fall; where that does not
 * decide, the first, with a doubt that names the others.
 *
 * @param free columns nothing is known of. @param isOpen nothing is known of any column.
 */
export function frequencyColumn(free: number[], looks: ColumnLook[], isOpen: boolean): FrequencyColumn {
  if (free.length > 1 && looks[free[0]].values.length < ENOUGH) return firstOfFew(free, looks);
  const isPositive = ({ values }: ColumnLook) => values.filter((value) => value > 0).length >= 0.9 * values.length;
  const rising = free.filter((column) => looks[column].rises && isPositive(looks[column]));
  const falling = free.filter((column) => looks[column].falls && isPositive(looks[column]));
  const counter = free.length > 2 ? rising.find((column) => looks[column].counts) : undefined;
  const candidates = [...rising, ...falling];
  if (candidates.length === 0) return { taken: free[0], ...(isOpen && { doubt: doubtOf(free[0], free, false) }) };
  const sure = candidates.find((one) =>
    candidates.every((other) => one === other || beats(one, other, looks, counter)),
  );
  const taken = sure ?? candidates.find((column) => column !== counter) ?? candidates[0];
  return {
    taken,
    ...(counter !== taken && counter !== undefined && { counter }),
    ...(sure === undefined && { doubt: doubtOf(taken, candidates, true) }),
  };
}

/** A few rows show little; the first column is the frequency, for certain where no other runs in order. */
function firstOfFew(free: number[], looks: ColumnLook[]): FrequencyColumn {
  const isInOrder = (column: number) => looks[column].rises === 'strictly' || looks[column].falls;
  const [taken, ...others] = free;
  const isSure = isInOrder(taken) && !others.some(isInOrder);
  return { taken, ...(!isSure && { doubt: doubtOf(taken, free, isInOrder(taken)) }) };
}

function beats(one: number, other: number, looks: ColumnLook[], counter: number | undefined): boolean {
  const [a, b] = [looks[one], looks[other]];
  const [even, otherEven] = [isEvenGrid(a), isEvenGrid(b)];
  if (other === counter && even) return true;
  if (one === counter) return false;
  const [octaves, otherOctaves] = [octavesOf(a), octavesOf(b)];
  if (even && !otherEven && octaves >= otherOctaves) return true;
  if (otherEven && !even) return false;
  return a.falls === b.falls ? octaves >= 2 * otherOctaves : b.falls;
}

function doubtOf(taken: number, among: number[], rises: boolean): Caveat {
  const others = among.filter((column) => column !== taken).map((column) => column + 1);
  return makeCaveat('frequency-column-unsure', 'doubt', {
    taken: taken + 1,
    others: others.slice(0, 10).join(', '),
    rises,
  });
}
