import { BassloomError } from '../model/errors';
import { lowPassTaps } from './lowPassTaps';

/** What folds back into the band comes down by 100 dB; Kaiser's rule falls short by up to 1.2 dB. */
const REJECTION_DB = 102;
/** New sample rate over band width: below it the low-pass gets long, above it later transforms do. */
const RATE_TO_BAND = 6;

/**
 * Lower the sample rate of a sound by a whole factor, keeping a bass band as it is.
 *
 * @param samples the sound. @param sampleRateHz its sample rate, Hz.
 * @param options.bandHz upper end of the band that is kept, Hz; 500 where left out.
 * @param options.factor how many samples become one; where left out, the largest that leaves six times the band, which
 * is 16 for 48 kHz and 500 Hz. 1 leaves the samples as they are.
 * @returns samples at `sampleRateHz` (a fraction of the old), one for every `factor` of the old; the first of both
 * stand at the same time, so nothing is delayed.
 * @throws BassloomError `decimate-rate`, `decimate-band`, `decimate-factor`.
 *
 * Notes: a linear-phase low-pass whose stop band begins where folding would reach the band: within 0.001 dB up to
 * `bandHz`, and everything that folds into the band is 100 dB down. Between `bandHz` and half the new rate it falls and
 * folds: do not use it. The sound counts as silent before its first and after its last sample.
 *
 * Reference: R. E. Crochiere, L. R. Rabiner, Multirate Digital Signal Processing (1983), ch. 4 (don't-care bands).
 *
 * @example
 * decimate(new Float64Array(48000), 48000).sampleRateHz // 3000
 */
export function decimate(
  samples: Float64Array,
  sampleRateHz: number,
  options: { bandHz?: number; factor?: number } = {},
): { samples: Float64Array; sampleRateHz: number; factor: number } {
  const bandHz = options.bandHz ?? 500;
  check(sampleRateHz, bandHz);
  const factor = options.factor ?? Math.max(1, Math.floor(sampleRateHz / (RATE_TO_BAND * bandHz)));
  const newRateHz = sampleRateHz / factor;
  if (!(Number.isInteger(factor) && factor >= 1 && (factor === 1 || newRateHz > 2 * bandHz))) {
    refuse('factor', 'factor', `factor ${factor} leaves ${newRateHz} Hz, not more than twice the band of ${bandHz} Hz`);
  }
  if (factor === 1) return { samples: samples.slice(), sampleRateHz, factor };
  const taps = lowPassTaps({
    sampleRateHz,
    passHz: bandHz,
    stopHz: newRateHz - bandHz,
    rejectionDb: REJECTION_DB,
  });
  return { samples: filterEvery(samples, taps, factor), sampleRateHz: newRateHz, factor };
}

/** Symmetric filter without delay, worked out at every `factor`-th sample only. */
function filterEvery(samples: Float64Array, taps: Float64Array, factor: number): Float64Array {
  const half = (taps.length - 1) / 2;
  const length = samples.length;
  const out = new Float64Array(Math.ceil(length / factor));
  for (let k = 0, centre = 0; k < out.length; k++, centre += factor) {
    let sum = taps[half] * samples[centre];
    if (centre >= half && centre + half < length) {
      for (let i = 1; i <= half; i++) sum += taps[half + i] * (samples[centre - i] + samples[centre + i]);
    } else {
      for (let i = 1; i <= half; i++) {
        if (centre >= i) sum += taps[half + i] * samples[centre - i];
        if (centre + i < length) sum += taps[half + i] * samples[centre + i];
      }
    }
    out[k] = sum;
  }
  return out;
}

function check(sampleRateHz: number, bandHz: number): void {
  if (!(sampleRateHz > 0 && Number.isFinite(sampleRateHz))) {
    refuse('rate', 'sampleRateHz', `the sample rate is ${sampleRateHz}`);
  }
  if (!(bandHz > 0 && bandHz < sampleRateHz / 2)) {
    refuse('band', 'bandHz', `a band up to ${bandHz} Hz does not fit below half of ${sampleRateHz} Hz`);
  }
}

function refuse(code: string, field: string, why: string): never {
  throw new BassloomError(`decimate-${code}`, `Cannot lower the sample rate: ${why}; change ${field}.`, { field });
}
