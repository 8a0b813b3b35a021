/** How the numbers of a column run from row to row. */
export interface ColumnLook {
  values: number[];
  /** Every number is above the one before; 'nearly' where one is not, as where a line of numbers is no row. */
  rises: 'strictly' | 'nearly' | 'weakly' | undefined;
  falls: boolean;
  lowest: number;
  highest: number;
  /** 1, 2, 3 .. or 0, 1, 2 .. */
  counts: boolean;
}

const ENOUGH = 8;

/**
 * Look at a column.
 *
 * @param numbers of rows from all over the text, in their order; NaN where one has none. @param first of its first rows.
 */
export function lookAt(numbers: number[], first: number[]): ColumnLook {
  const values = numbers.filter(Number.isFinite);
  let [ups, downs, level] = [0, 0, 0];
  let [lowest, highest] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  values.forEach((value, i) => {
    if (i > 0 && value > values[i - 1]) ups++;
    else if (i > 0 && value < values[i - 1]) downs++;
    else if (i > 0) level++;
    lowest = Math.min(lowest, value);
    highest = Math.max(highest, value);
  });
  const rises = () => {
    if (values.length < 2 || ups === 0) return undefined;
    if (downs === 0) return level === 0 ? 'strictly' : 'weakly';
    return downs === 1 && level === 0 && values.length >= ENOUGH ? 'nearly' : undefined;
  };
  return {
    values,
    rises: rises(),
    falls: values.length >= 2 && ups === 0 && downs > 0,
    lowest,
    highest,
    counts: first.length >= ENOUGH && (first[0] === 0 || first[0] === 1) && first.every((v, i) => v === first[0] + i),
  };
}

/** How many octaves a column would span if it held frequencies. */
export function octavesOf({ lowest, highest }: ColumnLook): number {
  return lowest > 0 ? Math.log2(highest / lowest) : 0;
}

/** Whether numbers go on in equal steps or equal ratios, as frequencies mostly do; nominal third octaves count. */
export function isEvenGrid({ values }: ColumnLook): boolean {
  const distinct = values.filter((value, i) => i === 0 || value !== values[i - 1]);
  if (distinct.length < 3 || distinct.some((value) => !(value > 0))) return false;
  const steps = distinct.slice(1).map((value, i) => value - distinct[i]);
  const ratios = distinct.slice(1).map((value, i) => Math.log(value / distinct[i]));
  return areAlike(steps) || areAlike(ratios);
}

/** Steps of rounded frequencies differ by up to a third; those of levels that rise all along by far more. */
function areAlike(steps: number[]): boolean {
  const usual = middle(steps);
  return steps.every((step) => step > 0.65 * usual && step < 1.35 * usual);
}

/** The middle of some numbers, of an even count the upper one: one of them, as they stand in the text. */
export function middle(values: number[]): number {
  return values.toSorted((a, b) => a - b)[values.length >> 1];
}

/** Levels beyond reason: 120 dB from end to end and more. */
export function isTooWide({ lowest, highest }: ColumnLook): boolean {
  return highest > 200 || lowest < -250 || highest - lowest > 120;
}

/** Small and positive from end to end, as magnitudes, percentages and ohms are, and levels in dB rarely. */
export function looksLikeMagnitude({ lowest, highest }: ColumnLook): boolean {
  return lowest > 0 && (lowest < 10 || highest < 30);
}

export function looksLikeLevels(look: ColumnLook): boolean {
  return !isTooWide(look) && !looksLikeMagnitude(look) && !looksLikePhase(look, false);
}

/**
 * Degrees that run through a quarter of a turn or more, and below 0 or ever down, as those of a response do; of a
 * microphone any will do.
 */
export function looksLikePhase({ lowest, highest, falls }: ColumnLook, isOfMicrophone: boolean): boolean {
  if (isOfMicrophone) return lowest >= -180 && highest <= 180;
  return highest - lowest >= 90 && (lowest <= 0 || falls);
}

/** Two columns that both go through zero and reach equally far, as real and imaginary parts do. */
export function looksLikeComplex(a: ColumnLook, b: ColumnLook): boolean {
  const reach = ({ lowest, highest }: ColumnLook) => Math.max(-lowest, highest);
  const isCrossing = ({ lowest, highest }: ColumnLook) => lowest < 0 && highest > 0 && highest > -0.2 * lowest;
  return isCrossing(a) && isCrossing(b) && reach(a) < 3 * reach(b) && reach(b) < 3 * reach(a);
}
