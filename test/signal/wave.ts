/** The signal of test/reference/signals.py: no two samples alike, all frequencies in it. */
export const wave = (length: number) =>
  Float64Array.from({ length }, (_, n) => Math.sin(0.01 * n * n) + 0.3 * Math.cos(0.7 * n) + 0.1);

/** Level of a sum over samples at one frequency, worked out term by term: no transform of ours takes part. */
export function dftAt(samples: ArrayLike<number>, hz: number, sampleRateHz: number): [re: number, im: number] {
  let [re, im] = [0, 0];
  for (let n = 0; n < samples.length; n++) {
    const turns = (hz * n) / sampleRateHz;
    const angle = 2 * Math.PI * (turns - Math.floor(turns));
    re += samples[n] * Math.cos(angle);
    im -= samples[n] * Math.sin(angle);
  }
  return [re, im];
}
