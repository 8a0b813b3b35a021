/**
 * Values of a column at other frequencies, on straight lines over log frequency.
 * Outside the known range the end value is held.
 *
 * @param frequencyHz known frequencies, strictly rising, Hz; @param values one for each.
 * @param atHz wanted frequencies, rising, Hz.
 * @returns one value for each wanted frequency.
 *
 * @example
 * interpolate([10, 40], [0, 12], [20]) // [6]
 */
export function interpolate(
  frequencyHz: ArrayLike<number>,
  values: ArrayLike<number>,
  atHz: ArrayLike<number>,
): number[] {
  const last = frequencyHz.length - 1;
  const out = new Array<number>(atHz.length);
  let i = 0;
  let segment = -1;
  let width = 0;
  for (let k = 0; k < atHz.length; k++) {
    const f = atHz[k];
    while (i > 0 && frequencyHz[i] > f) i--;
    while (i < last && frequencyHz[i + 1] < f) i++;
    if (f <= frequencyHz[0]) out[k] = values[0];
    else if (f >= frequencyHz[last]) out[k] = values[last];
    else if (f === frequencyHz[i + 1]) out[k] = values[i + 1];
    else {
      if (segment !== i) width = Math.log(frequencyHz[i + 1] / frequencyHz[i]);
      segment = i;
      const t = Math.log(f / frequencyHz[i]) / width;
      out[k] = values[i] + t * (values[i + 1] - values[i]);
    }
  }
  return out;
}
