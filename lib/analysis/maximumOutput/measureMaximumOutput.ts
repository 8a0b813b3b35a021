import type { Caveat } from '../../model/caveat';
import type { Recording } from '../../model/curve';
import { BassloomError } from '../../model/errors';
import type { MaximumOutput } from '../../model/findings';
import type { BurstSpec } from '../../signal/burstSchedule';
import { makeCaveat } from '../../words/makeCaveat';
import { makeRefusal } from '../../words/makeRefusal';
import { levelAtDistance } from '../calibration/levelAtDistance';
import { averageCentres } from './averageCentres';
import { burstPlan, type PlannedBurst } from './burstPlan';
import { judgeCentre } from './judgeCentre';
import { checkLimits, HARMONIC_LIMITS } from './limits';
import type { MaximumOutputOptions } from './options';
import { outputCaveats } from './outputCaveats';
import { type CaptureReading, type ReadOptions, readCapture } from './readCapture';

/** From the peak level at 1 m to the rms level at 2 m, dB: a sine's peak over its rms, and twice the distance. */
const PEAK_1M_TO_RMS_2M_DB = -10 * Math.log10(2) - 20 * Math.log10(2);

/** Where pressure falls as the distance rises, so that levels can be brought to another distance. */
const CONVERTIBLE: MaximumOutput['assumption']['place'][] = ['free field', 'half space'];

/**
 * Find the greatest output of a unit in short bursts: per third-octave centre, the highest level whose harmonics all
 * stay under their limits, and what stopped the next burst.
 *
 * @param captures one or more recordings of one unit in one setting while the bursts played; where they were played at
 * several volumes, `about.driveDb` of each tells by how many dB. @param stimulus what was played, or its spec.
 * @param onProgress told how far the work is, 0 to 1.
 * @returns for each centre the peak level at the microphone and, where `options.place` and the distance allow it, the peak
 * level at 1 m and the rms level at 2 m; every burst with its level (peak, at the microphone) and harmonics (order 2 first, dB re the fundamental, null where the noise prevails); means over the low-bass (20, 25, 31.5 Hz) and
 * upper-bass (40, 50, 63 Hz) centres, of pressures.
 * @throws BassloomError `no-captures`, `not-bursts`, `bursts-not-found` (where no capture holds them), `capture-rate`, `no-such-channel`,
 * `bad-limits`, `distance`, `calibration-level`, and those of `planBursts` and `decodeWav`.
 *
 * Notes: the schedule is found in each capture wherever it begins, and its clock followed. The level is the greatest
 * amplitude of the envelope of the fundamental's band, stated as peak pressure: 3.01 dB above the rms of a tone of that
 * amplitude. A harmonic's level is the spectrum of the received burst at n f over that at f. Of a unit whose n-th
 * harmonic grows with the n-th power of the amplitude that reads less than a steady tone at the burst's crest would,
 * since the harmonic is shorter than the burst: 2.5 dB for the second, 4.1 dB for the third. A fundamental less than 10 dB
 * above the noise is passed over; a harmonic less than 10 dB above the noise cannot fail. In a room all this includes
 * the room, so that levels stay those at the microphone: where it takes the fundamental away, harmonics look large.
 *
 * Limits: as published descriptions of the consumer subwoofer output standard CTA-2010 give them (from memory). This is
 * no conformity test: see the standard itself for surroundings, limits, averages and reporting.
 *
 * Caution: bursts near the limit can damage hearing, driver and amplifier; see `burstSchedule`.
 *
 * @example
 * const stimulus = makeBursts({ sampleRateHz: 48000 });
 * const { centres } = measureMaximumOutput([capture], stimulus, { fullScaleDb: 124, measuredAtM: 1, place: 'half space' });
 */
export function measureMaximumOutput(
  captures: Recording[],
  stimulus: Recording | BurstSpec,
  options: MaximumOutputOptions = {},
  onProgress: (share: number) => void = () => {},
): MaximumOutput {
  if (captures.length === 0) throw makeRefusal('no-captures', {}, { field: 'captures' });
  const { fullScaleDb } = options;
  if (fullScaleDb !== undefined && !Number.isFinite(fullScaleDb)) {
    throw makeRefusal('calibration-level', { level: fullScaleDb }, { field: 'fullScaleDb' });
  }
  const limits = checkLimits(options.limits ?? HARMONIC_LIMITS);
  const plan = burstPlan(stimulus);
  const place = options.place ?? 'unknown';
  const distances = captures.map(({ about }) => options.measuredAtM ?? about.distanceM);
  for (const distance of distances) if (distance !== undefined) levelAtDistance(0, distance, 1);
  const isConverted = CONVERTIBLE.includes(place) && !distances.includes(undefined);
  const { readings, used, left } = readAll(captures, plan, options, isConverted, onProgress);
  const bursts = readings.flatMap((reading) => reading.bursts);
  const hertz = [...new Set(plan.map(({ centreHz }) => centreHz))].sort((a, b) => a - b);
  const judged = hertz.map((centreHz) =>
    judgeCentre(
      bursts.filter((burst) => burst.centreHz === centreHz),
      limits,
      isConverted ? PEAK_1M_TO_RMS_2M_DB : null,
    ),
  );
  const centres = judged.map(({ centre }) => centre);
  const { device, setting } = used[0].about;
  const known = [...new Set(used.map(({ about }) => options.measuredAtM ?? about.distanceM ?? null))];
  const measuredAtM = known.filter((distance) => distance !== null);
  return {
    ...(device !== undefined && { device }),
    ...(setting !== undefined && { setting }),
    recordings: used.map(({ id }) => id),
    limits,
    scale: options.fullScaleDb === undefined ? 'relative' : 'spl',
    measuredAtM: known.length === 1 ? known[0] : null,
    centres,
    averages: averageCentres(centres, PEAK_1M_TO_RMS_2M_DB),
    assumption: { place, measuredAtM, calibrated: options.fullScaleDb !== undefined },
    caveats: [
      ...left,
      ...outputCaveats({ captures: used, readings, centres, options, place, isConverted }),
      ...judged.flatMap(({ caveats }) => caveats),
    ],
  };
}

/** Captures that do not hold the bursts are left out and named, as long as any does. */
function readAll(
  captures: Recording[],
  plan: PlannedBurst[],
  options: MaximumOutputOptions,
  isConverted: boolean,
  onProgress: (share: number) => void,
) {
  const readings: CaptureReading[] = [];
  const used: Recording[] = [];
  const left: Caveat[] = [];
  let problem: unknown;
  captures.forEach((capture, i) => {
    const { correction, fullScaleDb = 0, channel = 1 } = options;
    const distanceM = options.measuredAtM ?? capture.about.distanceM;
    const distanceDb = isConverted && distanceM !== undefined ? levelAtDistance(0, distanceM, 1) : 0;
    const reading: ReadOptions = { correction, fullScaleDb, channel, distanceDb };
    try {
      readings.push(readCapture(capture, plan, reading, (share) => onProgress((i + share) / captures.length)));
      used.push(capture);
    } catch (thrown) {
      if (!(thrown instanceof BassloomError && thrown.code === 'bursts-not-found')) throw thrown;
      problem ??= thrown;
      left.push(makeCaveat('output-capture-left-out', 'doubt', { label: capture.label }, { curve: capture.id }));
    }
  });
  if (used.length === 0) throw problem;
  return { readings, used, left };
}
