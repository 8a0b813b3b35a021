import type { Curve, Recording } from '../../model/curve';
import { makeRefusal, type RefusalValues } from '../../words/makeRefusal';

/** How `deconvolveCapture` works. */
export interface DeconvolveOptions {
  /** Highest harmonic, 1 to 20; 1 for none, 5 where left out. */
  harmonics?: number;
  /** Response of the microphone, taken out of all curves. */
  correction?: Curve;
  /** Level of a sine whose peak is full scale in the capture, dB re 20 uPa. */
  fullScaleDb?: number;
  /** Upper end of the response, Hz; 500 or the end of the sweep where left out. */
  toHz?: number;
  /** Points of the curves, 3 to 960 an octave; 96 where left out. */
  pointsPerOctave?: number;
  /** Channel of the capture that holds the microphone, the first being 1. */
  channel?: number;
  /** Capture of the muted stimulus, made in the same way: the noise. */
  noise?: Recording;
}

/** Options with what was left out filled in. */
export type Settings = DeconvolveOptions & {
  harmonics: number;
  toHz: number;
  pointsPerOctave: number;
  channel: number;
  /** Not an option: whether the sample rate stays, to compare with. */
  isFullRate?: boolean;
};

/** Fill in what was left out, and refuse what makes no sense. */
export function settingsOf(options: DeconvolveOptions): Settings {
  const settings = {
    ...options,
    harmonics: options.harmonics ?? 5,
    toHz: options.toHz ?? 500,
    pointsPerOctave: options.pointsPerOctave ?? 96,
    channel: options.channel ?? 1,
  };
  const { harmonics, toHz, pointsPerOctave, channel, fullScaleDb } = settings;
  if (!(Number.isInteger(harmonics) && harmonics >= 1 && harmonics <= 20)) bad('harmonics', 'orders', harmonics);
  if (!(toHz > 1 && Number.isFinite(toHz))) bad('toHz', 'hz-above-1', toHz);
  if (!(pointsPerOctave >= 3 && pointsPerOctave <= 960)) bad('pointsPerOctave', 'points-per-octave', pointsPerOctave);
  if (!(Number.isInteger(channel) && channel >= 1)) bad('channel', 'channel', channel);
  if (fullScaleDb !== undefined && !Number.isFinite(fullScaleDb)) bad('fullScaleDb', 'full-scale', fullScaleDb);
  if (options.noise !== undefined && options.noise?.kind !== 'recording') bad('noise', 'recording');
  if (options.correction !== undefined && options.correction?.kind !== 'curve') bad('correction', 'curve');
  return settings;
}

function bad(field: string, wanted: RefusalValues<'bad-option'>['wanted'], value?: number): never {
  throw makeRefusal('bad-option', { wanted, ...(value !== undefined && { value }) }, { field });
}
