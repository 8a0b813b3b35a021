import type { Samples } from './standingAt';

/** What is broken in the flow of samples. */
export interface Dropouts {
  /** Stretches in which the sound stands still. */
  gaps: number;
  /** Whether they hold zeros. */
  areSilent: boolean;
  /** Single steps out of all proportion. */
  jumps: number;
  /** The first of them all; -1 where there is none. */
  atIndex: number;
}

/** Samples that must be alike for a gap: at least that many, and for that long, s. */
const GAP = { samples: 16, seconds: 0.0004 };
/** How far before and after a gap or step the sound is looked at: samples. */
const AROUND = 24;
/** Sound that moves by less than that many steps of quantisation a sample stands still by itself at a crest. */
const MOVES_STEPS = 6;
/** A step that is that many times the largest near it, and that share of the largest sample, is none of the sound's. */
const OUT_OF_PROPORTION = 8;
const LEAST_OF_PEAK = 0.005;

/**
 * Find where samples were lost: stretches that stand still in the midst of sound, and places where the wave jumps.
 *
 * @param samples one channel. @param finest the smallest step that it takes: 16 bits may come in 24. @param peak largest sample.
 *
 * Notes: sound on both sides of a gap must move faster than quantisation can hide; what stands at the extremes has
 * clipped. Where samples were left out or given twice, the wave goes on elsewhere: one step far larger than all those
 * around it, which no filtered sound makes. A loss where the wave happens to fit together again is not seen.
 *
 * @example
 * findDropouts(Float64Array.from({ length: 9600 }, (_, n) => (n > 4000 && n < 4100 ? 0 : Math.sin(n / 50))), 48000, 0, 1).gaps // 1
 */
export function findDropouts(samples: Samples, sampleRateHz: number, finest: number, peak: number): Dropouts {
  const found: Dropouts = { gaps: 0, areSilent: true, jumps: 0, atIndex: -1 };
  const least = Math.max(GAP.samples, Math.ceil(GAP.seconds * sampleRateHz));
  const moves = Math.max(MOVES_STEPS * finest, 1e-5 * peak);
  const jump = LEAST_OF_PEAK * peak;
  const note = (index: number) => {
    if (found.atIndex < 0) found.atIndex = index;
  };
  const { length } = samples;
  for (let from = 1; from < length; ) {
    const odd = nextOdd(samples, from, jump);
    // sound that stands still does so up to `end`, where it steps on
    let end = odd;
    while (end < length && samples[end] === samples[odd - 1]) end++;
    from = end + 1;
    if (end >= length) break;
    const still = end - odd;
    if (still >= least) {
      const start = odd - 1;
      const isMidst = Math.abs(samples[start]) < 0.97 * peak;
      if (
        isMidst &&
        meanStep(samples, start - AROUND, start) > moves &&
        meanStep(samples, end - 1, end - 1 + AROUND) > moves
      ) {
        found.gaps++;
        if (samples[start] !== 0) found.areSilent = false;
        note(start);
      }
      continue; // the ends of a gap are steps of their own
    }
    const step = Math.abs(samples[end] - samples[end - 1]);
    if (step < jump) continue;
    const earlier = largestStep(samples, end - 1 - AROUND, end - 1);
    const later = largestStep(samples, end, end + AROUND);
    if (Math.min(earlier, later) > 0 && step > OUT_OF_PROPORTION * Math.max(earlier, later)) {
      found.jumps++;
      note(end);
    }
  }
  return found;
}

/**
 * The next sample that is the same as the one before, or steps too far to be no jump at a glance: what is smaller than
 * the mean of the two bounds of a jump is below one of them. A function of its own, which runs three times as fast.
 */
function nextOdd(samples: Samples, from: number, jump: number): number {
  let before = samples[from - 1];
  let step = 0;
  for (let n = from; n < samples.length; n++) {
    const sample = samples[n];
    const stepBefore = step;
    step = Math.abs(sample - before);
    before = sample;
    if (!(step > 0 && step < 0.5 * (jump + OUT_OF_PROPORTION * stepBefore))) return n;
  }
  return samples.length;
}

/** 0 where the samples do not reach so far. */
function meanStep(samples: Samples, from: number, to: number): number {
  if (from < 0 || to >= samples.length) return 0;
  let sum = 0;
  for (let n = from; n < to; n++) sum += Math.abs(samples[n + 1] - samples[n]);
  return sum / (to - from);
}

function largestStep(samples: Samples, from: number, to: number): number {
  if (from < 0 || to >= samples.length) return Number.POSITIVE_INFINITY;
  let most = 0;
  for (let n = from; n < to; n++) most = Math.max(most, Math.abs(samples[n + 1] - samples[n]));
  return most;
}
