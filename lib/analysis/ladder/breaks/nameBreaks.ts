import type { Caveat } from '../../../model/caveat';
import type { Ladder, LadderBreak } from '../../../model/findings';
import { makeCaveat } from '../../../words/makeCaveat';
import { median } from '../../fitting/median';
import type { Cells, Rung } from '../cells';
import type { Structure } from './findBreaks';
import { readSteps, type StepFit, stepOff } from './readSteps';

/** Of the bands, so many must be off alike for a whole run to be off: within half of it or 1 dB. */
const ALIKE_SHARE = 0.75;
const ALIKE_DB = 1;
/** A level that rises by less than this does not rise, dB. */
const RISE_DB = 0.3;
/** Where more than so many are broken the list says no more. */
const MOST_NAMED = 4;
/** Bands off by less are not named, dB. */
const NAMED_DB = 0.8;

/**
 * Give the breaks of a ladder their kinds, and say all that does not fit.
 *
 * @param structure of the rungs. @param judged those that are counted with.
 *
 * Notes: a rung that is off and a pair that is swapped are breaks too, on both sides, though the rungs around them fit.
 */
export function nameBreaks(
  cells: Cells,
  rungs: Rung[],
  structure: Structure,
  judged: number[],
): { breaks: Ladder['breaks']; caveats: Caveat[] } {
  const { off, swapped, rows } = structure;
  const between = (from: number, to: number): StepFit => readSteps(cells, [from, to], 0.1, 0, [])[0];
  const pairs = new Map<string, StepFit>();
  const add = (step: StepFit) => pairs.set(`${step.from} ${step.to}`, step);
  for (const step of structure.breaks) add(step);
  for (const rung of [...off, ...swapped.flat()]) {
    if (rung > 0) add(between(rung - 1, rung));
    if (rung + 1 < rungs.length) add(between(rung, rung + 1));
  }
  const severity = 2 * judged.length < rungs.length ? 'warning' : 'doubt';
  const isBroken = judged.length < 2 || (severity === 'warning' && isFalling(cells));
  const caveats = isBroken
    ? brokenCaveats(structure, rungs, cells)
    : [
        ...structure.breaks.slice(0, MOST_NAMED).map((step) => breakCaveat(kindOf(cells, step), rungs, severity)),
        ...off.slice(0, MOST_NAMED).map((rung) => offCaveat(cells, rungs, rows, rung)),
        ...swapped.map(([a, b]) =>
          makeCaveat('ladder-rungs-swapped', 'doubt', { lower: rungs[a].label, upper: rungs[b].label }),
        ),
        ...(rows.length > 1 ? [partCaveat(rungs, judged)] : []),
      ];
  const breaks = [...pairs.values()]
    .sort((a, b) => a.from - b.from || a.to - b.to)
    .map((step) => kindOf(cells, step))
    .map(({ step, ...kind }) => ({ between: [rungs[step.from].id, rungs[step.to].id], ...kind }) as LadderBreak);
  return { breaks, caveats };
}

interface Kind extends Omit<LadderBreak, 'between'> {
  step: StepFit;
}

function kindOf({ bandsHz, driveDb }: Cells, step: StepFit): Kind {
  const known = bandsHz.flatMap((_, band) => (Number.isFinite(step.offDb[band]) ? [band] : []));
  const offDb = known.length > 0 ? median(known.map((band) => step.offDb[band])) : 0;
  const alike = known.filter((band) => Math.abs(step.offDb[band] - offDb) <= Math.max(ALIKE_DB, Math.abs(offDb) / 2));
  const changed = known.filter((band) => Math.abs(step.offDb[band]) > NAMED_DB);
  const named = (bands: number[]) => (bands.length > 0 ? bands : known).map((band) => bandsHz[band]);
  if (offDb + driveDb[step.to] - driveDb[step.from] < RISE_DB)
    return { step, offDb, what: 'not rising', bandsHz: named(known) };
  if (alike.length >= ALIKE_SHARE * known.length && Math.abs(offDb) > 0.3)
    return { step, offDb, what: 'all bands', bandsHz: named(known) };
  return { step, offDb, what: 'some bands', bandsHz: named(changed) };
}

function breakCaveat({ step, what, offDb, bandsHz }: Kind, rungs: Rung[], severity: 'doubt' | 'warning'): Caveat {
  const [lower, upper] = [rungs[step.from], rungs[step.to]];
  const values = { lower: lower.label, upper: upper.label, offDb };
  const where = { driveDb: [lower.driveDb, upper.driveDb], bandsHz };
  if (lower.id === upper.id) return makeCaveat('ladder-file-twice', severity, values, where);
  if (what === 'all bands') return makeCaveat('ladder-gain-slipped', severity, values, where);
  if (what === 'some bands') return makeCaveat('ladder-response-changed', severity, values, where);
  const fallDb = -(offDb + upper.driveDb - lower.driveDb);
  return makeCaveat('ladder-not-rising', severity, { ...values, fallDb }, where);
}

function offCaveat(cells: Cells, rungs: Rung[], rows: number[][], rung: number): Caveat {
  const below = Math.max(...rows.flat().filter((other) => other < rung));
  const above = Math.min(...rows.flat().filter((other) => other > rung));
  const offs = cells.bandsHz.map((_, band) => offMiddle(cells, [below, rung, above], band));
  const known = offs.filter(Number.isFinite);
  const offDb = known.length > 0 ? median(known) : 0;
  const changed = cells.bandsHz.filter((_, band) => Math.abs(offs[band]) > NAMED_DB);
  const values = { label: rungs[rung].label, lower: rungs[below].label, upper: rungs[above].label };
  const copied = [below, above].find((other) => rungs[other].id === rungs[rung].id);
  if (copied !== undefined) {
    const [lower, upper] = copied < rung ? [copied, rung] : [rung, copied];
    return makeCaveat('ladder-file-twice', 'doubt', { lower: rungs[lower].label, upper: rungs[upper].label });
  }
  const place = { curve: rungs[rung].id, driveDb: [rungs[rung].driveDb] };
  if (changed.length === 0 || changed.length >= ALIKE_SHARE * known.length)
    return makeCaveat('ladder-rung-off', 'doubt', { ...values, offDb }, place);
  const most = offs.reduce((worst, off) => (Math.abs(off) > Math.abs(worst) ? off : worst), 0);
  return makeCaveat('ladder-rung-off', 'doubt', { ...values, offDb: most }, { ...place, bandsHz: changed });
}

/** How far a level lies off the line between those of two other rungs, dB. */
export function offMiddle(cells: Cells, [below, rung, above]: [number, number, number], band: number): number {
  const part = (cells.driveDb[rung] - cells.driveDb[below]) / (cells.driveDb[above] - cells.driveDb[below]);
  return stepOff(cells, below, rung, band) - part * stepOff(cells, below, above, band);
}

/** Where nothing fits anything, one caveat says so: what single rungs do means nothing. */
function brokenCaveats({ breaks }: Structure, rungs: Rung[], cells: Cells): Caveat[] {
  const twice = breaks.find(({ from, to }) => rungs[from].id === rungs[to].id);
  return [
    ...(twice ? [breakCaveat(kindOf(cells, twice), rungs, 'warning')] : []),
    makeCaveat('ladder-broken', 'warning', { falls: !twice && isFalling(cells) }),
  ];
}

/** Whether the level falls over most steps. */
function isFalling(cells: Cells): boolean {
  const falls = cells.driveDb.filter((_, rung) => rung > 0 && fallsTo(cells, rung)).length;
  return 2 * falls > cells.driveDb.length - 1;
}

function fallsTo({ levelDb }: Cells, rung: number): boolean {
  const steps = levelDb[rung].map((level, band) => level - levelDb[rung - 1][band]).filter(Number.isFinite);
  return steps.length > 0 && median(steps) < 0;
}

function partCaveat(rungs: Rung[], judged: number[]): Caveat {
  const [from, to] = [rungs[judged[0]], rungs[judged[judged.length - 1]]];
  const values = { from: from.label, to: to.label, rungs: judged.length, of: rungs.length };
  return makeCaveat('ladder-part-judged', 'remark', values, { driveDb: judged.map((rung) => rungs[rung].driveDb) });
}
