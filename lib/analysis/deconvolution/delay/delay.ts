import type { Deconvolved } from '../../../model/step';
import type { ExcessPhase } from './excessPhase';
import { firstArrival } from './firstArrival';
import { fitDelay, type Settled } from './fitDelay';

/** Delay of the direct sound, and the difference of the clocks. */
export interface Delay {
  delayS: number;
  /** 95 % */
  uncertaintyS: number;
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
/** A difference of clocks must better the fit by that factor to count. */
const BETTER = 0.7;
/**
 * Deviations of the fit that make 95 %: rooms bend the phase in long waves, which the fit takes for fewer independent
 * points than there are. Tuned on 880 drawn rooms (images of the source, a few echoes, diffuse tails, none; 25 to 70 dB
 * of signal over noise; clocks up to 120 ppm apart), in which five took out a difference that was not there.
 */
const DEVIATIONS = 10;
/** A delay is that of the phase where it is better known than that, s. */
const SURE_S = 1e-4;
/** No clock is better known than that from one sweep, and none is off by more than this, parts per million. */
const FINEST_PPM = 3;
const MOST_PPM = 3000;
/** How far two clocks may be apart where nothing is known of them, parts per million; common practice, no source. */
const USUAL_PPM = 100;
/** A first arrival is good to that many periods of the highest frequency; tuned on the same rooms. */
const PERIODS = 0.6;

/**
 * Arrival of the direct sound, and how much faster the recorder's clock ran.
 *
 * @param excess of the response. @param sweepTimeS time of a frequency in the sweep; undefined for other stimuli, whose
 * clocks cannot be told.
 *
 * Notes: where the response is of minimum phase but for a delay, the delay is that of the phase. A clock that ran faster
 * delays each frequency by its share of its time in the sweep. How the level goes on above the range is not known, and
 * decides on both; they are known only as far as all fits that explain the response about as well agree. In a room that
 * adds strong reflections the delay is the first strong arrival, good to about half a period of the highest frequency.
 */
export function findDelay(excess: ExcessPhase, sweepTimeS: ((hz: number) => number) | undefined): Delay {
  const { equal, differing, levelRoll } = fitDelay(excess, sweepTimeS ?? ((hz) => Math.log(hz)));
  const clock = sweepTimeS && differing.leftRad < EXPLAINED_RAD ? clockOf(differing, equal.leftRad) : undefined;
  const fit = clock?.isUsed ? differing : equal;
  const topHz = excess.hz[excess.hz.length - 1];
  const sweptS = sweepTimeS?.(topHz) ?? 0;
  // whether clocks differ is not known before: where they count as equal, both fits must agree
  const deviationS = DEVIATIONS * (sweepTimeS ? differing : equal).delayDeviation;
  const betweenS = sweepTimeS ? fit.delayS - differing.delayS : 0;
  const uncertaintyS = Math.hypot(deviationS, fit.delaySpreadS, betweenS, FINEST_PPM * 1e-6 * sweptS);
  if (fit.leftRad < EXPLAINED_RAD && uncertaintyS < SURE_S) {
    return { delayS: fit.delayS, uncertaintyS, from: 'phase', clock };
  }
  const ratio = clock?.isUsed ? clock.ppm * 1e-6 : 0;
  const rawPhase = excess.rawPhase.map((p, i) =>
    ratio === 0 ? p : p + 2 * Math.PI * excess.hz[i] * ratio * sweepTimeS!(excess.hz[i]),
  );
  const leftPpm = clock ? clock.uncertaintyPpm + (clock.isUsed ? 0 : Math.abs(clock.ppm)) : USUAL_PPM;
  return {
    delayS: firstArrival({ ...excess, rawPhase }, levelRoll),
    uncertaintyS: Math.hypot(PERIODS / topHz, Math.min(leftPpm, USUAL_PPM) * 1e-6 * sweptS),
    from: 'first arrival',
    clock,
  };
}

function clockOf(differing: Settled, equalLeftRad: number): Clock | undefined {
  const ppm = differing.clock * 1e6;
  const deviationPpm = differing.clockDeviation * 1e6;
  const uncertaintyPpm = Math.hypot(DEVIATIONS * deviationPpm, differing.clockSpread * 1e6, FINEST_PPM);
  if (Math.abs(ppm) > MOST_PPM) return undefined;
  const isUsed = Math.abs(ppm) > uncertaintyPpm && differing.leftRad < BETTER * equalLeftRad;
  return { ppm, uncertaintyPpm, isUsed };
}
