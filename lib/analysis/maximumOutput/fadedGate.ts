/**
 * Window that rises, stays at 1 and falls at given times, both ends being halves of a Hann window.
 *
 * @param times s from the first sample: where it begins, is full, begins to fall, ends.
 */
export function fadedGate(
  length: number,
  rate: number,
  [from, full, fade, to]: [from: number, full: number, fade: number, to: number],
): Float64Array {
  const half = (share: number) => (1 - Math.cos(Math.PI * share)) / 2;
  return Float64Array.from({ length }, (_, n) => {
    const t = n / rate;
    if (t <= from || t >= to) return 0;
    if (t < full) return half((t - from) / (full - from));
    return t > fade ? half((to - t) / (to - fade)) : 1;
  });
}
