/** Sum of x[n] exp(-j 2 pi f n / rate), at any frequency. */
export function dftAt(samples: Float64Array, hz: number, rate: number): [re: number, im: number] {
  const turn = (-2 * Math.PI * hz) / rate;
  const [stepRe, stepIm] = [Math.cos(turn), Math.sin(turn)];
  let [re, im, sumRe, sumIm] = [1, 0, 0, 0];
  for (let n = 0; n < samples.length; n++) {
    sumRe += samples[n] * re;
    sumIm += samples[n] * im;
    const next = re * stepRe - im * stepIm;
    im = re * stepIm + im * stepRe;
    re = next;
  }
  return [sumRe, sumIm];
}
