import type { Recording } from '../../model/curve';
import { nearestCentre } from '../../model/octaves';
import { stepsOf } from '../../model/step';
import { type BurstSpec, planBursts, type ScheduledBurst } from '../../signal/planBursts';
import { recogniseBursts } from '../../signal/recogniseBursts';
import { BURST_CYCLES } from '../../signal/toneBurst';
import { decodeWav } from '../../wav/decodeWav';
import { makeRefusal } from '../../words/makeRefusal';

/** A burst in seconds, so that captures of any sample rate can be held against it. */
export interface PlannedBurst {
  hz: number;
  /** Exact base-10 third-octave centre that it belongs to, Hz. */
  centreHz: number;
  levelDbfs: number;
  /** From the start of the stimulus, s. */
  atS: number;
  seconds: number;
  /** Silence before it, s. */
  gapBeforeS: number;
  gapAfterS: number;
}

/**
 * When which burst was played: from the step of our own stimulus, or else from its samples.
 *
 * @throws BassloomError `not-bursts`, and those of `planBursts`.
 */
export function burstPlan(stimulus: Recording | BurstSpec): PlannedBurst[] {
  const { bursts, rate } = scheduleOf(stimulus);
  const sorted = [...bursts].sort((a, b) => a.atSample - b.atSample);
  const ends = sorted.map(({ atSample, samples }) => (atSample + samples) / rate);
  const starts = sorted.map(({ atSample }) => atSample / rate);
  const gaps = starts.map((start, i) => Math.max(0, start - (i === 0 ? 0 : ends[i - 1])));
  return sorted.map(({ centreHz, levelDbfs, samples }, i) => ({
    hz: centreHz,
    centreHz: nearestCentre(centreHz),
    levelDbfs,
    atS: starts[i],
    seconds: samples / rate,
    gapBeforeS: gaps[i],
    // nothing comes after the last: as much silence as before it may be looked at
    gapAfterS: gaps[i + 1] ?? gaps[i],
  }));
}

function scheduleOf(stimulus: Recording | BurstSpec): { bursts: ScheduledBurst[]; rate: number } {
  if (!('kind' in stimulus)) return { bursts: planBursts(stimulus).bursts, rate: stimulus.sampleRateHz };
  const rate = stimulus.sampleRateHz;
  const made = stepsOf(stimulus, 'make bursts')[0];
  if (made && made.with.sampleRateHz === rate) {
    return { bursts: planBursts(made.with).bursts, rate };
  }
  // the first channel that sounds
  const sounding = decodeWav(stimulus).channels.find((channel) => channel.some((sample: number) => sample !== 0));
  if (!sounding) {
    const values = { label: stimulus.label, cycles: BURST_CYCLES, why: 'silent', atS: null } as const;
    throw makeRefusal('not-bursts', values, { field: 'stimulus' });
  }
  return { bursts: recogniseBursts(sounding, rate), rate };
}
