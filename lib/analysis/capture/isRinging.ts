/** A steady line stays within that from one half of a stretch to the other, also in noise 13 dB below, dB. */
const MOST_FALL_DB = 4;

/**
 * Whether what sounds at a frequency fades as a room does after the stimulus has passed; hum does not.
 *
 * @param samples any stretch. @param hz within some hertz of what sounds.
 *
 * @example
 * isRinging(Float64Array.from({ length: 1000 }, (_, n) => Math.exp(-n / 300) * Math.sin(n)), 1000, 159) // true
 */
export function isRinging(samples: Float64Array, sampleRateHz: number, hz: number): boolean {
  const half = samples.length >> 1;
  const early = amplitude(samples.subarray(0, half), hz / sampleRateHz);
  const late = amplitude(samples.subarray(samples.length - half), hz / sampleRateHz);
  return late < early * 10 ** (-MOST_FALL_DB / 20);
}

/** Of a sine, under a Hann window. */
function amplitude(samples: Float64Array, cyclesPerSample: number): number {
  let [re, im] = [0, 0];
  // both turn by the same angle from sample to sample: that of the window, and that of the sine
  const slow = (2 * Math.PI) / samples.length;
  const fast = 2 * Math.PI * cyclesPerSample;
  const [slowRe, slowIm, fastRe, fastIm] = [Math.cos(slow), Math.sin(slow), Math.cos(fast), Math.sin(fast)];
  let [a, b, c, d] = [Math.cos(slow / 2), Math.sin(slow / 2), 1, 0];
  for (let n = 0; n < samples.length; n++) {
    const weighed = samples[n] * (1 - a);
    re += weighed * c;
    im += weighed * d;
    const nextA = a * slowRe - b * slowIm;
    b = a * slowIm + b * slowRe;
    a = nextA;
    const nextC = c * fastRe - d * fastIm;
    d = c * fastIm + d * fastRe;
    c = nextC;
  }
  return Math.hypot(re, im) / samples.length;
}
