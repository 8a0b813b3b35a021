import type { Measurement, Recording } from '../../lib/model/curve';
import { stepsOf } from '../../lib/model/step';
import type { Library } from '../define';

export interface Sorted {
  captures: Recording[];
  /** Captures of silence. */
  noise: Recording[];
  stimuli: Recording[];
  /** What deconvolving leaves alone. */
  rest: Measurement[];
}

/** Tell captures, captures of silence and stimuli from what is passed on as it is: curves, a calibrator, other sounds. */
export function sortOut(lib: Library, measurements: Measurement[]): Sorted {
  const sorted: Sorted = { captures: [], noise: [], stimuli: [], rest: [] };
  for (const one of measurements) {
    const isCalibrator = one.kind === 'recording' && lib.isCalibratorName(one.label);
    if (one.kind === 'recording' && one.role === 'capture' && !isCalibrator) {
      const isNoise = lib.isNoiseName(one.label) || isMutedTwin(one);
      (isNoise ? sorted.noise : sorted.captures).push(one);
    } else if (one.kind === 'recording' && one.role === 'stimulus') {
      if (!isMutedTwin(one) && !lib.isNoiseName(one.label, { played: true })) sorted.stimuli.push(one);
    } else sorted.rest.push(one);
  }
  return sorted;
}

/** The silence that is to be captured for a capture: of its unit, else one of no unit; its own setting and position go first. */
export function noiseOf({ about, sampleRateHz }: Recording, noise: Recording[]): Recording | undefined {
  const known = noise.filter(({ about: { device } }) => device === undefined || device === about.device);
  const likeness = (run: Recording): number =>
    Number(run.about.device !== undefined) * 8 +
    Number(run.sampleRateHz === sampleRateHz) * 4 +
    Number(run.about.position === about.position) * 2 +
    Number(run.about.setting === about.setting);
  return known.sort((a, b) => likeness(b) - likeness(a))[0];
}

/** A muted twin of a sweep, or a capture of one, as what made it says. */
function isMutedTwin(recording: Recording): boolean {
  return stepsOf(recording, 'make muted sweep').length > 0;
}
