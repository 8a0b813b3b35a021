import type { Recording } from '../../model/curve';
import type { MaximumOutput } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import { levelAtDistance } from '../calibration/levelAtDistance';
import { median } from '../fitting/median';
import type { MaximumOutputOptions } from './options';
import type { CaptureReading } from './readCapture';

/** Clocks further apart than this are mentioned, parts per million. */
const NOTABLE_PPM = 200;
/** No unit expands by so much, over so many pairs of bursts: levels over steps in drive. */
const STRANGE_STEP = 1.3;
const FEWEST_PAIRS = 4;

/** What brings a level from a distance to 1 m, dB; 0 where the distance is not known. @throws BassloomError `distance`. */
export function toOneMetreDb(distanceM: number | undefined): number {
  return distanceM === undefined ? 0 : levelAtDistance(0, distanceM, 1);
}

/** How levels were brought from the microphone to 1 m and 2 m. */
export function assumptionOf(distances: (number | null)[], isCalibrated: boolean): string {
  const known = distances.filter((distance) => distance !== null);
  const from =
    known.length === 0
      ? 'The distance of the microphone is not known: "1 m" stands for the place of the microphone, "2 m" for twice its distance.'
      : `Levels were brought from ${known.map((distance) => Number(distance.toFixed(2))).join(' and ')} m to 1 m by inverse distance (6.02 dB a doubling), which holds outdoors over hard ground and away from walls.`;
  const scale = isCalibrated ? '' : ' Not calibrated: dB re a full-scale sine in the capture.';
  return `${from} Peak at 1 m less 9.03 dB is rms at 2 m: 3.01 dB from a sine's peak to its rms, 6.02 dB for the distance. In a room the levels include the room.${scale} Bursts and limits follow published descriptions of the consumer subwoofer output standard CTA-2010; this is no test of conformity, see the standard itself.`;
}

/** What speaks against a whole measurement. */
export function caveatsOf(
  captures: Recording[],
  readings: CaptureReading[],
  centres: MaximumOutput['centres'],
  options: MaximumOutputOptions,
): string[] {
  const caveats: string[] = [];
  if (options.fullScaleDb === undefined) {
    caveats.push('Not calibrated: levels are relative to digital full scale; give the level of full scale.');
  }
  if (captures.some(({ about }) => (options.measuredAtM ?? about.distanceM) === undefined)) {
    caveats.push('The distance of the microphone is not known: levels are those at the microphone; give the distance.');
  }
  if (captures.length > 1 && captures.some(({ about }) => about.driveDb === undefined)) {
    caveats.push('Several captures, and not all say at which drive they were taken: those count as 0 dB.');
  }
  captures.forEach((capture, i) => {
    const { clockPpm, missed } = readings[i];
    if (missed > 0) {
      caveats.push(
        `${capture.label}: ${missed === 1 ? '1 burst lies' : `${missed} bursts lie`} outside the recording, so the drives of the others may be wrong by whole steps (their levels are not); record from before the first to after the last.`,
      );
    }
    if (Math.abs(clockPpm) > NOTABLE_PPM) {
      caveats.push(
        `${capture.label}: clocks of player and recorder differ by ${Math.round(clockPpm)} parts per million; it was followed.`,
      );
    }
  });
  const step = medianStep(centres);
  if (step > STRANGE_STEP) {
    caveats.push(
      `The bursts rise ${step.toFixed(1)} times as fast as the schedule says: the drives are wrong, and what stopped a burst may be. Give the stimulus that was played.`,
    );
  }
  const clipped = centres.filter(({ stoppedBy }) => stoppedBy === 'clipping');
  if (clipped.length > 0) {
    caveats.push(`The capture clipped at ${names(clipped)}: these levels are 'at least'; lower the recording gain.`);
  }
  const silent = centres.filter(({ bursts }) => bursts.every(({ levelDb }) => levelDb === null));
  if (silent.length > 0) caveats.push(`No burst at ${names(silent)} was recorded.`);
  const { correction } = options;
  if (correction) {
    const [low, high] = [correction.frequencyHz[0], correction.frequencyHz[correction.frequencyHz.length - 1]];
    const beyond = centres.filter(({ centreHz }) => centreHz < low || centreHz > high);
    if (beyond.length > 0) {
      caveats.push(`The microphone's correction does not reach ${names(beyond)}: its end value was held.`);
    }
  }
  return caveats;
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

function names(centres: { centreHz: number }[]): string {
  return `${centres.map(({ centreHz }) => nominalHz(centreHz)).join(', ')} Hz`;
}
