import type { CaveatValue } from '../../../model/caveat';
import type { Phrases } from '../../phrase';
import { given } from './given';

/** Filters, transforms, weightings, exposure. */
export const signal = {
  'exposure-level': ({ level }: { level: CaveatValue }, _where, say) =>
    `The level is ${given(level, say)}; give dB(A) at the ear, such as 85.`,
  'exposure-time': ({ seconds }: { seconds: CaveatValue }, _where, say) =>
    `The time is ${given(seconds, say, 's')}; give seconds, 0 or more.`,
  'unequal-spectra': ({ a, b }: { a: number; b: number }) =>
    `The spectra have ${a} and ${b} bins; transform both with the same length.`,
  'fft-length': ({ length, samples }: { length: CaveatValue; samples: number | null }, _where, say) =>
    samples === null
      ? `The length of the transform is ${given(length, say)}; it must be a power of two, 4 or more; nextFastLength gives one.`
      : `The length of the transform is ${given(length, say)}, too short for ${say.count(samples, 'sample')}; nextFastLength gives one that is long enough.`,
  'minimum-phase-grid': ({ levels }: { levels: number }) =>
    `Number of levels: ${levels}; it must be a power of two plus one, from 0 Hz to half the sample rate.`,
  'biquad-kind': ({ kind }: { kind: CaveatValue }, _where, say) =>
    `The kind of filter is ${given(kind, say)}; give one such as 'low-pass', 'high-shelf' or 'peaking'.`,
  'biquad-frequency': ({ hz, rateHz }: { hz: CaveatValue; rateHz: number }, _where, say) =>
    `The frequency of the filter is ${given(hz, say, 'Hz')}; it must lie between 0 and half the sample rate of ${say.exact(rateHz, 'Hz')}.`,
  'biquad-quality': ({ q }: { q: CaveatValue }, _where, say) =>
    `The quality is ${given(q, say)}; give a number above 0, such as ${say.exact(0.7)}.`,
  'biquad-gain': ({ gainDb }: { gainDb: CaveatValue }, _where, say) =>
    `The gain is ${given(gainDb, say)}; give dB, such as ${say.exact(-6)}.`,
  'weighting-frequency': ({ hz }: { hz: CaveatValue }, _where, say) =>
    `The frequency is ${given(hz, say, 'Hz')}; give Hz above 0.`,
  'weighting-kind': ({ kind }: { kind: CaveatValue }, _where, say) =>
    `The weighting is ${given(kind, say)}; give 'A', 'C' or 'Z'.`,
  'decimate-rate': ({ rateHz }: { rateHz: CaveatValue }, { field }, say) =>
    `Cannot lower the sample rate: ${field} is ${given(rateHz, say, 'Hz')}; give Hz above 0.`,
  'decimate-band': ({ bandHz, rateHz }: { bandHz: CaveatValue; rateHz: number }, { field }, say) =>
    `Cannot lower the sample rate: ${field} is ${given(bandHz, say, 'Hz')}; give a frequency above 0 and below half of ${say.exact(rateHz, 'Hz')}.`,
  'decimate-factor': (
    { factor, rateHz, bandHz }: { factor: CaveatValue; rateHz: number; bandHz: number },
    _where,
    say,
  ) =>
    `Cannot lower the sample rate of ${say.exact(rateHz, 'Hz')}: the factor is ${given(factor, say)}; it must be a whole number and leave more than twice the band of ${say.exact(bandHz, 'Hz')}.`,
} satisfies Phrases;
