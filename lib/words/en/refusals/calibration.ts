import type { CaveatValue } from '../../../model/caveat';
import type { Format } from '../../format';
import type { Phrases } from '../../phrase';
import { given } from './given';

/** What to give, and an example. */
const KNOWN: Record<'sensitivityMvPerPa' | 'fullScaleV' | 'gainDb', [string, number]> = {
  sensitivityMvPerPa: ['mV/Pa above 0', 12.5],
  fullScaleV: ['V rms above 0', 1.2],
  gainDb: ['dB', 20],
};

/** Calibration and distance. */
export const calibration = {
  'calibration-sensitivity': ({ known, value }: { known: keyof typeof KNOWN; value: CaveatValue }, _where, say) =>
    `${known} is ${given(value, say)}; give ${KNOWN[known][0]}, such as ${say.exact(KNOWN[known][1])}.`,
  'calibration-level': ({ level }: { level: CaveatValue }, _where, say) =>
    `The level of full scale is ${given(level, say)}; give dB SPL, such as 120.`,
  'already-calibrated': ({ label }: { label: string }) =>
    `‘${label}’ is already in dB SPL; calibrate a curve only once.`,
  'calibration-tone': (values: { level: CaveatValue } | { hz: CaveatValue; rateHz: number }, _where, say) =>
    'hz' in values
      ? `The frequency of the calibrator is ${given(values.hz, say, 'Hz')}; a recording at ${say.exact(values.rateHz, 'Hz')} cannot hold that. Give the calibrator's frequency, such as 1000.`
      : `The level of the calibrator is ${given(values.level, say)}; give dB SPL, such as 94.`,
  'calibration-no-tone': (
    { label, hz, insteadHz }: { label: string; hz: number; insteadHz: number | null },
    _where,
    say,
  ) =>
    `${label}: there is no clear tone near ${say.hz(hz)}.${insteadHz === null ? '' : ` The clearest tone is at ${fine(insteadHz, say)}.`} Check that the calibrator is on, that the right channel is read and that the frequency given is the calibrator's.`,
  'calibration-frequency': ({ label, hz, toneHz }: { label: string; hz: number; toneHz: number }, _where, say) =>
    `${label}: the tone is at ${fine(toneHz, say)}, not ${fine(hz, say)}. Give the calibrator's own frequency and level, or check that its battery is not low and that playback and recording have the same sample rate.`,
  'calibration-unsteady': ({ label, hz }: { label: string; hz: number }, _where, say) =>
    `${label}: there is no half second of steady tone near ${say.hz(hz)}. Seat the microphone firmly in the calibrator and record ten seconds of it.`,
  'calibration-clipped': ({ label, samples }: { label: string; samples: number }, _where, say) =>
    `${label}: the tone is clipped (${say.count(samples, 'sample')}). Lower the input gain, keep it so for the measurements, and record the calibrator again.`,
  distance: ({ value }: { value: CaveatValue }, { field }, say) =>
    `${field} is ${given(value, say, 'm')}; give metres above 0, such as 1.`,
} satisfies Phrases;

/** Four digits: three would call 1004 Hz and 1000 Hz the same. */
function fine(hz: number, say: Format): string {
  return say.exact(Number(hz.toPrecision(4)), 'Hz');
}
