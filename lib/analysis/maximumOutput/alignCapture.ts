import { makeRefusal } from '../../words/makeRefusal';
import type { PlannedBurst } from './burstPlan';
import { type Clock, followClock } from './followClock';
import { placeSchedule } from './placeSchedule';
import { thinCapture } from './thinCapture';
import { type Presence, tonePresence } from './tonePresence';

/** A burst reaches from its frequency less to its frequency plus 2 / 6.5 of it. */
const UPPER_REACH = 1.35;
/** Moments looked at in the time of the shortest burst. */
const HOPS = 8;
/** Finer than this the search would only take longer, s. */
const LEAST_HOP_S = 0.002;

export interface Alignment extends Clock {
  /** Bursts of the schedule that stand out of the noise where they are expected. */
  found: number;
}

/**
 * Find where in a capture the schedule lies, and how much faster the recorder's clock ran.
 *
 * @param samples one channel. @param rate its sample rate, Hz. @param plan what was played.
 * @returns when each burst arrives.
 * @throws BassloomError `capture-rate` where the bursts do not fit below half the sample rate, `bursts-not-found`.
 *
 * Notes: the recorder may start before or after the stimulus; clocks may differ by up to 600 parts per million. Where a
 * unit gave nothing at the highest levels and the recorder started late, whole rounds of levels can be mistaken.
 */
export function alignCapture(samples: Float32Array | Float64Array, rate: number, plan: PlannedBurst[]): Alignment {
  const highest = Math.max(...plan.map(({ hz }) => hz));
  const bandHz = highest * UPPER_REACH;
  if (!(bandHz < rate / 2)) {
    throw makeRefusal('capture-rate', { rateHz: rate, hz: highest }, { field: 'sampleRateHz' });
  }
  const thin = thinCapture(samples, rate, bandHz);
  const shortest = Math.min(...plan.map(({ seconds }) => seconds));
  const hop = Math.max(1, Math.floor(Math.max(LEAST_HOP_S, shortest / HOPS) * thin.rate));
  const presences = new Map<number, Presence>();
  for (const { hz, seconds } of plan) {
    if (!presences.has(hz)) presences.set(hz, tonePresence(thin.samples, thin.rate, hz, seconds, hop));
  }
  const place = placeSchedule(plan, presences, samples.length / rate);
  return { ...followClock(plan, presences, place), found: place.found };
}
