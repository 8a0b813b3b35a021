import { nextFastLength, realFft } from '../../signal/fourier';
import { hann } from '../../signal/windows';

/** Power spectrum of steady sound, averaged over stretches. */
export interface MeanSpectrum {
  /** Squared amplitude of the sine that would give each bin, from 0 Hz upwards. */
  power: Float64Array;
  /** Distance of the bins, at most a quarter of the resolution. */
  binHz: number;
  /** Duration of a stretch, s. Its main lobe reaches 2 / stretchS to both sides. */
  stretchS: number;
  stretches: number;
}

/**
 * Mean power spectrum under a Hann window, with stretches that overlap by half.
 *
 * @param samples one channel, at least 4 samples. @param sampleRateHz Hz. @param longestS most that a stretch lasts, s.
 *
 * Reference: P. D. Welch, IEEE Trans. Audio Electroacoust. 15 (1967) 70-73.
 *
 * @example
 * meanSpectrum(samples, 3000, 4).binHz // 0.046 for 4 s or more
 */
export function meanSpectrum(samples: Float64Array, sampleRateHz: number, longestS: number): MeanSpectrum {
  const most = Math.round(longestS * sampleRateHz);
  const length = Math.min(samples.length, most);
  const stretches = 1 + Math.ceil((samples.length - length) / (length / 2));
  const window = hann(length, 'periodic');
  const size = nextFastLength(4 * length);
  const power = new Float64Array(size / 2 + 1);
  // a sine of amplitude 1 gives half the sum of the window, which is a quarter of its length
  const scale = 16 / length ** 2 / stretches;
  const stretch = new Float64Array(length);
  const bins = new Float64Array(size + 2);
  for (let k = 0; k < stretches; k++) {
    const from = stretches === 1 ? 0 : Math.round((k * (samples.length - length)) / (stretches - 1));
    for (let n = 0; n < length; n++) stretch[n] = window[n] * samples[from + n];
    realFft(stretch, size, bins);
    for (let i = 0; i < power.length; i++) power[i] += scale * (bins[2 * i] ** 2 + bins[2 * i + 1] ** 2);
  }
  return { power, binHz: sampleRateHz / size, stretchS: length / sampleRateHz, stretches };
}
