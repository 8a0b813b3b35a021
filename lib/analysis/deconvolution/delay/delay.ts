import type { Deconvolved } from '../../../model/step';
import type { ExcessPhase } from './excessPhase';
import { firstArrival } from './firstArrival';
import { fitDelay } from './fitDelay';

/** Delay of the direct sound, and the difference of the clocks. */
export interface Delay {
  delayS: number;
  /** What it rests on: see `findDelay` for how far each is to be trusted. */
  from: Deconvolved['delayFrom'];
  clock: Clock | undefined;
}

/** Difference between the clocks of recorder and player. */
export interface Clock {
  /** How much faster the recorder's ran, parts per million, and its uncertainty (95 %). */
  ppm: number;
  uncertaintyPpm: number;
  /** Whether it stands out of its uncertainty, and is taken out. */
  isUsed: boolean;
}

/** What is left of a phase that a delay explains, radians. */
const EXPLAINED_RAD = 0.06;
/** A level so close to a roll-off has no echoes on it; else how it goes on above its range cannot be told, nepers. */
const STRAIGHT_NEPERS = 0.06;
/** A difference of clocks must better the fit by that factor to count. */
const BETTER = 0.7;
/**
 * Deviations of the fit that make 95 %: rooms bend the phase in long waves, which the fit takes for fewer independent
 * points than there are. From simulated rooms, in which two deviations held a third of the clocks.
 */
const DEVIATIONS = 10;
/** No clock is better known than that from one sweep, and none is off by more than this, parts per million. */
const FINEST_PPM = 3;
const MOST_PPM = 3000;

/**
 * Arrival of the direct sound, and how much faster the recorder's clock ran.
 *
 * @param excess of the response. @param sweepTimeS time of a frequency in the sweep; undefined for other stimuli, whose
 * clocks cannot be told.
 *
 * Notes: where the response is of minimum phase but for a delay, the delay is that of the phase. A clock that ran faster
 * delays each frequency by its share of its time in the sweep. In a room with strong reflections neither can be told
 * from the phase; the delay then is the first strong arrival, good to some tenths of a millisecond (in noise and at
 * strong reflections to some milliseconds), and the clocks count as equal.
 */
export function findDelay(excess: ExcessPhase, sweepTimeS: ((hz: number) => number) | undefined): Delay {
  const { equal, differing, levelRoll, bend } = fitDelay(excess, sweepTimeS ?? ((hz) => Math.log(hz)));
  const clock =
    sweepTimeS && differing.leftRad < EXPLAINED_RAD ? clockOf(differing.clock, differing.clockDeviation) : undefined;
  const isUsed = clock?.isUsed && differing.leftRad < BETTER * equal.leftRad;
  if (isUsed) return { delayS: differing.delayS, from: 'phase', clock };
  const unused = clock && { ...clock, isUsed: false };
  if (equal.leftRad < EXPLAINED_RAD && bend < STRAIGHT_NEPERS) {
    return { delayS: equal.delayS, from: 'phase', clock: unused };
  }
  return { delayS: firstArrival(excess, levelRoll), from: 'first arrival', clock: unused };
}

function clockOf(ratio: number, deviation: number): Clock | undefined {
  const ppm = ratio * 1e6;
  const uncertaintyPpm = Math.hypot(DEVIATIONS * deviation * 1e6, FINEST_PPM);
  if (Math.abs(ppm) > MOST_PPM) return undefined;
  return { ppm, uncertaintyPpm, isUsed: Math.abs(ppm) > uncertaintyPpm };
}
