/** Cycles of a burst: as many as ears hear as a tone, few enough not to heat the coil; its peak is in the middle. */
export const BURST_CYCLES = 6.5;

/**
 * Tone burst of 6.5 cycles under a Hann window.
 *
 * @param frequencyHz its frequency. @param sampleRateHz sample rate, Hz.
 * @returns samples from 0 to 0, the peak in the middle: 1, or a little less where it falls between two samples.
 *
 * Notes: its main lobe ends at the frequency times 1 +- 2 / 6.5; at 0 Hz it is 52 dB below the peak of the lobe.
 *
 * Reference: common practice for the short-term output of subwoofers, no source; the window as in `hann`.
 *
 * @example
 * toneBurst(31.6, 48000).length // 9874
 */
export function toneBurst(frequencyHz: number, sampleRateHz: number): Float64Array {
  const seconds = BURST_CYCLES / frequencyHz;
  return Float64Array.from({ length: Math.floor(seconds * sampleRateHz) + 1 }, (_, n) => {
    const t = n / sampleRateHz;
    return ((1 - Math.cos((2 * Math.PI * t) / seconds)) / 2) * Math.sin(2 * Math.PI * frequencyHz * t);
  });
}
