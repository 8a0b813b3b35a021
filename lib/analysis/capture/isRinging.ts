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
  for (let n = 0; n < samples.length; n++) {
    const weighed = samples[n] * (1 - Math.cos((2 * Math.PI * (n + 0.5)) / samples.length));
    const angle = 2 * Math.PI * cyclesPerSample * n;
    re += weighed * Math.cos(angle);
    im += weighed * Math.sin(angle);
  }
  return Math.hypot(re, im) / samples.length;
}
