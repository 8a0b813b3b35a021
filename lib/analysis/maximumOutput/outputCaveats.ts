import type { Caveat } from '../../model/caveat';
import type { Recording } from '../../model/curve';
import type { MaximumOutput, OutputAssumption } from '../../model/findings';
import { makeCaveat } from '../../words/makeCaveat';
import { median } from '../fitting/median';
import type { MaximumOutputOptions } from './options';
import type { CaptureReading } from './readCapture';

/** Clocks further apart than this are mentioned, parts per million (common practice, no source). */
const NOTABLE_PPM = 200;
/** No unit expands by so much, over so many pairs of bursts: levels over steps in drive. */
const STRANGE_STEP = 1.3;
const FEWEST_PAIRS = 4;

interface Measured {
  captures: Recording[];
  readings: CaptureReading[];
  centres: MaximumOutput['centres'];
  options: MaximumOutputOptions;
  place: OutputAssumption['place'];
  /** Whether levels were brought to 1 m. */
  isConverted: boolean;
}

/** What speaks against a whole measurement. */
export function outputCaveats({ captures, readings, centres, options, place, isConverted }: Measured): Caveat[] {
  const bandsOf = (those: MaximumOutput['centres']) => ({ bandsHz: those.map(({ centreHz }) => centreHz) });
  const clipped = centres.filter(({ stoppedBy }) => stoppedBy === 'clipping');
  const silent = centres.filter(({ bursts }) => bursts.every(({ levelDb }) => levelDb === null));
  const beyond = beyondCorrection(centres, options);
  const factor = medianStep(centres);
  return [
    ...(options.fullScaleDb === undefined ? [makeCaveat('output-not-calibrated', 'remark', {})] : []),
    ...(isConverted ? [] : distanceCaveats(captures, options, place)),
    ...(captures.length > 1 && captures.some(({ about }) => about.driveDb === undefined)
      ? [makeCaveat('output-drives-unknown', 'doubt', {})]
      : []),
    ...captures.flatMap((capture, i) => captureCaveats(capture, readings[i])),
    ...(factor > STRANGE_STEP ? [makeCaveat('output-steps-strange', 'doubt', { factor })] : []),
    ...(clipped.length > 0 ? [makeCaveat('output-clipped', 'doubt', {}, bandsOf(clipped))] : []),
    ...(silent.length > 0 ? [makeCaveat('output-not-recorded', 'doubt', {}, bandsOf(silent))] : []),
    ...(beyond.length > 0 ? [makeCaveat('output-correction-short', 'doubt', {}, bandsOf(beyond))] : []),
  ];
}

/** Why levels are those at the microphone. */
function distanceCaveats(
  captures: Recording[],
  { measuredAtM }: MaximumOutputOptions,
  place: OutputAssumption['place'],
): Caveat[] {
  const distances = new Set(captures.map(({ about }) => measuredAtM ?? about.distanceM));
  const isOpen = place === 'free field' || place === 'half space';
  return [
    isOpen
      ? makeCaveat('output-distance-unknown', 'remark', {})
      : makeCaveat('output-at-microphone', 'remark', { place }),
    ...(distances.size > 1 ? [makeCaveat('output-distances-differ', 'doubt', {})] : []),
  ];
}

function captureCaveats({ id, label }: Recording, { missed, clockPpm }: CaptureReading): Caveat[] {
  const where = { curve: id };
  return [
    ...(missed > 0 ? [makeCaveat('output-bursts-missed', 'doubt', { label, bursts: missed }, where)] : []),
    ...(Math.abs(clockPpm) > NOTABLE_PPM
      ? [makeCaveat('output-clock', 'remark', { label, ppm: Math.round(clockPpm) }, where)]
      : []),
  ];
}

function beyondCorrection(centres: MaximumOutput['centres'], { correction }: MaximumOutputOptions) {
  if (!correction) return [];
  const [low, high] = [correction.frequencyHz[0], correction.frequencyHz[correction.frequencyHz.length - 1]];
  return centres.filter(({ centreHz }) => centreHz < low || centreHz > high);
}

/** Rise in level over that in drive, the median over neighbouring bursts that passed; 1 where too few tell. */
function medianStep(centres: MaximumOutput['centres']): number {
  const steps = centres.flatMap(({ bursts }) =>
    bursts.slice(1).flatMap((burst, i) => {
      const { driveDb, levelDb, passed } = bursts[i];
      if (!passed || !burst.passed || levelDb === null || burst.levelDb === null) return [];
      const rise = burst.driveDb - driveDb;
      return rise > 0.5 ? [(burst.levelDb - levelDb) / rise] : [];
    }),
  );
  return steps.length < FEWEST_PAIRS ? 1 : median(steps);
}
