import type { Curve } from '../model/curve';

/**
 * Thin a curve for a screen: of each stretch of the logarithmic frequency axis the lowest point and the highest, so that
 * no dip and no peak is lost.
 *
 * @param curve with frequencies in Hz, rising, and levels in dB. @param most points that may stay; one with fewer is left
 * as it is.
 * @returns frequencies and levels, in order; the first and the last point are always among them.
 *
 * @example
 * thinForScreen(curve, 600).frequencyHz.length // 600 or fewer
 */
export function thinForScreen(
  { frequencyHz, levelDb }: Pick<Curve, 'frequencyHz' | 'levelDb'>,
  most: number,
): Pick<Curve, 'frequencyHz' | 'levelDb'> {
  const count = frequencyHz.length;
  if (count <= most) return { frequencyHz, levelDb };
  const stretches = Math.max(1, Math.floor((most - 2) / 2));
  const first = Math.log(frequencyHz[0]);
  const width = (Math.log(frequencyHz[count - 1]) - first) / stretches;
  const kept = [0];
  for (let stretch = 0, i = 1; stretch < stretches && i < count - 1; stretch++) {
    const end = Math.exp(first + (stretch + 1) * width);
    const from = i;
    let [low, high] = [i, i];
    for (; i < count - 1 && (frequencyHz[i] < end || stretch === stretches - 1); i++) {
      if (levelDb[i] < levelDb[low]) low = i;
      if (levelDb[i] > levelDb[high]) high = i;
    }
    if (i > from) kept.push(...(low === high ? [low] : [Math.min(low, high), Math.max(low, high)]));
  }
  kept.push(count - 1);
  return { frequencyHz: kept.map((i) => frequencyHz[i]), levelDb: kept.map((i) => levelDb[i]) };
}
