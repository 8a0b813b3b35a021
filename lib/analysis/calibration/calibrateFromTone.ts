import type { Recording } from '../../model/curve';
import { decodeWav } from '../../wav/decodeWav';
import { makeRefusal } from '../../words/makeRefusal';
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
  const { levelDb, frequencyHz, channel } = check(options, recording, channels.length);
  const samples = Float64Array.from(channels[channel - 1]);
  const tone = findTone(meanSpectrum(samples, sampleRateHz, stretchFor(frequencyHz)), frequencyHz);
  if ('instead' in tone) {
    const values = { label: recording.label, hz: frequencyHz, insteadHz: tone.instead };
    throw makeRefusal('calibration-no-tone', values);
  }
  const off = tone.frequencyHz / frequencyHz - 1;
  if (Math.abs(off) > 0.03) {
    const values = { label: recording.label, hz: frequencyHz, toneHz: tone.frequencyHz };
    throw makeRefusal('calibration-frequency', values, { field: 'frequencyHz' });
  }
  const levels = toneLevels(samples, sampleRateHz, tone.frequencyHz);
  const part = steadyPart(levels);
  if (!part) throw makeRefusal('calibration-unsteady', { label: recording.label, hz: frequencyHz });
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

function check(options: ToneOptions, { label, sampleRateHz }: Recording, channels: number): Required<ToneOptions> {
  const { levelDb = 94, frequencyHz = 1000, channel = 1 } = options;
  if (!Number.isFinite(levelDb)) throw makeRefusal('calibration-tone', { level: levelDb }, { field: 'levelDb' });
  if (!(frequencyHz >= 5 && frequencyHz * 1.2 < sampleRateHz / 2)) {
    const values = { hz: frequencyHz, rateHz: sampleRateHz };
    throw makeRefusal('calibration-tone', values, { field: 'frequencyHz' });
  }
  if (!(Number.isInteger(channel) && channel >= 1 && channel <= channels)) {
    throw makeRefusal('no-such-channel', { label, channel, channels }, { field: 'channel' });
  }
  return { levelDb, frequencyHz, channel };
}

function refuseClipped(label: string, samples: Float32Array | Float64Array): void {
  const clipping = findClipping(samples);
  if (clipping.samples > 0) throw makeRefusal('calibration-clipped', { label, samples: clipping.samples });
}
