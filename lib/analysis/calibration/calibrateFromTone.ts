import type { Recording } from '../../model/curve';
import { BassloomError } from '../../model/errors';
import { decodeWav } from '../../wav/decodeWav';
import { findClipping } from '../capture/findClipping';
import { meanSpectrum } from '../capture/meanSpectrum';
import type { Calibration } from './calibration';
import { findTone } from './findTone';
import { steadyPart } from './steadyPart';
import { toneCaveats } from './toneCaveats';
import { toneLevels } from './toneLevels';

/** What the calibrator is said to give. */
export interface ToneOptions {
  /** Sound pressure level of its tone, dB re 20 uPa; 94 where left out. */
  levelDb?: number;
  /** Frequency of its tone, Hz; 1000 where left out. */
  frequencyHz?: number;
  /** Channel of the recording, the first being 1; 1 where left out. */
  channel?: number;
}

/**
 * Work out what digital full scale is worth from a recording of a sound calibrator.
 *
 * @param recording of the calibrator on the microphone; what comes before and after its steady tone is passed over.
 * @param options level (dB SPL) and frequency (Hz) the calibrator states; channel.
 * @returns the calibration, with caveats where the tone drifts, is brief, impure, noisy or off in frequency.
 * @throws BassloomError `calibration-no-tone`, `calibration-unsteady`, `calibration-frequency` (more than 3 % off),
 * `calibration-clipped`, `calibration-tone` for bad options, `no-such-channel`, and those of `decodeWav`.
 *
 * Notes: the tone is looked for within 20 % of the stated frequency and must stand 20 dB out of the spectrum around it.
 * Its amplitude is fitted by least squares under a Hann window in stretches of 0.1 s or ten cycles; the longest time in
 * which it changes by less than 1.5 dB is the steady part, half a second at least, and the mean power of its stretches
 * is the level. Hum and noise besides the tone thus do not count.
 *
 * Reference: IEC 60942 (sound calibrators; class 2: frequency within 2 %, distortion below 4 %, from memory).
 *
 * @example
 * const { fullScaleDb } = calibrateFromTone(recording, { levelDb: 114 });
 */
export function calibrateFromTone(recording: Recording, options: ToneOptions = {}): Calibration {
  const { sampleRateHz, channels } = decodeWav(recording);
  const { levelDb, frequencyHz, channel } = check(options, sampleRateHz, channels.length);
  const samples = Float64Array.from(channels[channel - 1]);
  const tone = findTone(meanSpectrum(samples, sampleRateHz, stretchFor(frequencyHz)), frequencyHz);
  if ('instead' in tone) refuseNoTone(recording.label, frequencyHz, tone.instead);
  const off = tone.frequencyHz / frequencyHz - 1;
  if (Math.abs(off) > 0.03) {
    throw new BassloomError(
      'calibration-frequency',
      `${recording.label}: the tone is at ${round(tone.frequencyHz)} Hz, not ${frequencyHz} Hz; state the calibrator's frequency and level, or see whether its battery is low and playback and recording have one sample rate.`,
      { field: 'frequencyHz' },
    );
  }
  const levels = toneLevels(samples, sampleRateHz, tone.frequencyHz);
  const part = steadyPart(levels);
  if (!part) {
    throw new BassloomError(
      'calibration-unsteady',
      `${recording.label}: no half second of steady tone near ${frequencyHz} Hz; seat the microphone firmly in the calibrator and record ten seconds of it.`,
    );
  }
  const steady = samples.slice(part.from, part.to);
  refuseClipped(recording.label, channels[channel - 1].subarray(part.from, part.to));
  const spectrum = meanSpectrum(steady, sampleRateHz, stretchFor(frequencyHz));
  return {
    fullScaleDb: levelDb - part.levelDb,
    from: 'tone',
    toneHz: tone.frequencyHz,
    toneDbfs: part.levelDb,
    caveats: toneCaveats(spectrum, tone.frequencyHz, off, { ...part, seconds: steady.length / sampleRateHz }),
  };
}

/** Long enough that the noise around the tone shows beside its main lobe. */
function stretchFor(frequencyHz: number): number {
  return Math.max(0.5, 40 / frequencyHz);
}

function check(options: ToneOptions, sampleRateHz: number, channels: number): Required<ToneOptions> {
  const { levelDb = 94, frequencyHz = 1000, channel = 1 } = options;
  if (!Number.isFinite(levelDb)) refuse('levelDb', `The calibrator's level is ${levelDb}; give dB SPL, such as 94.`);
  if (!(frequencyHz >= 5 && frequencyHz * 1.2 < sampleRateHz / 2)) {
    refuse(
      'frequencyHz',
      `A tone at ${frequencyHz} Hz cannot be found in ${sampleRateHz} samples a second; give its frequency, such as 1000.`,
    );
  }
  if (!(Number.isInteger(channel) && channel >= 1 && channel <= channels)) {
    throw new BassloomError('no-such-channel', `There is no channel ${channel}; give 1 to ${channels}.`, {
      field: 'channel',
    });
  }
  return { levelDb, frequencyHz, channel };
}

function refuse(field: string, message: string): never {
  throw new BassloomError('calibration-tone', message, { field });
}

function refuseNoTone(label: string, frequencyHz: number, insteadHz: number | null): never {
  const hint = insteadHz === null ? '' : ` The clearest tone is at ${round(insteadHz)} Hz.`;
  throw new BassloomError(
    'calibration-no-tone',
    `${label}: no clear tone near ${frequencyHz} Hz.${hint} Check that the calibrator is on, the right channel is read and the stated frequency is its own.`,
  );
}

function refuseClipped(label: string, samples: Float32Array | Float64Array): void {
  const clipping = findClipping(samples);
  if (clipping.samples === 0) return;
  throw new BassloomError(
    'calibration-clipped',
    `${label}: the tone is clipped (${clipping.samples} samples); lower the input gain, keep it so for the measurements, and record the calibrator again.`,
  );
}

function round(hz: number): number {
  return Number(hz.toPrecision(4));
}
