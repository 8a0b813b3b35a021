import { clippedAt, countNear } from './clippedAt';
import { type Extremes, extremesOf } from './extremes';
import { type Samples, standingAt } from './standingAt';

/** What was found of clipping in a recording. */
export interface Clipping {
  /** Samples at the rails, both polarities; 0 where nothing clipped. */
  samples: number;
  /** The first of them; null where nothing clipped. */
  atIndex: number | null;
  /** Level of the rail it stands at, dB re full scale; null where nothing clipped. */
  railDbfs: number | null;
}

/** A signal with fewer steps from bottom to top is not judged. */
const FEWEST_STEPS = 64;
/** Resolution of single precision: no step is finer than this share of a value. */
const SINGLE = 2 ** -23;
const NONE: Clipping = { samples: 0, atIndex: null, railDbfs: null };
/** A signal with a larger share of its samples at its extremes is a square wave. */
const SQUARE = 0.98;

/**
 * Count the clipped samples of a recording, also of one that was made quieter after it clipped.
 *
 * @param samples one channel, full scale = 1..
 * @returns how many samples stand at a rail, where the first one is, and the level of its rail.
 *
 * Notes: what clipped stands at one value, the extreme of the recording, in each polarity by itself. It is taken for a
 * rail where more than twice as many samples stand at it as in the six steps of quantisation below it: a crest, a
 * parabola to its last few steps, leaves more below than at its top, however slow it is, and a rail next to none.
 * Three samples in a row are needed, or at least five (three at full scale) in differing surroundings. Once a rail is
 * known, every sample at it counts, also a single one, and so does every sample at its mirror image; a sample that
 * reached it just so, without being cut, cannot be told apart. Where dither made the rail toggle, up to two steps below
 * the extreme count as the rail.
 *
 * Limits: not seen is clipping by less than some five steps of quantisation (16 bits: -76 dB re full scale) or, in
 * noise, by much less than the noise; nor that of a pure tone with a whole number of samples a cycle in which fewer than
 * three in a row are cut. A signal with less than 64 steps from bottom to top (silence), or with 98 % of
 * its samples at its extremes (a square wave), is never called clipped. Filtering, resampling or noise after the clipping hide it.
 *
 * @example
 * const tone = Float64Array.from({ length: 4800 }, (_, n) => Math.max(-0.5, Math.min(0.5, Math.sin(n / 77))));
 * findClipping(tone) // samples: 3226, railDbfs: -6.02
 */
export function findClipping(samples: Samples): Clipping {
  return clippingIn(samples, extremesOf(samples));
}

/** `findClipping` where the extremes of the samples are known already. */
export function clippingIn(samples: Samples, extremes: Extremes): Clipping {
  const { lowest, highest, smallest } = extremes;
  const step = stepOf(samples, highest, highest - lowest, smallest);
  const upStep = Math.max(step, highest * SINGLE);
  const downStep = Math.max(step, -lowest * SINGLE);
  if (!(highest - lowest >= FEWEST_STEPS * Math.max(upStep, downStep))) return { ...NONE };
  const { above, below } = countNear(samples, extremes, upStep, downStep);
  const up = highest > 0 ? clippedAt(samples, highest, upStep, above) : null;
  const down = lowest < 0 ? clippedAt(samples, lowest, downStep, below) : null;
  const clipped = [up, down].filter((rail) => rail !== null);
  // rails of a converter are alike but for a step: where one is known, a few samples at its mirror image are clipped too
  const alike = Math.abs(highest + lowest) <= 1.01 * upStep;
  if (alike && clipped.length === 1) clipped.push(standingAt(samples, up ? lowest : highest, !up));
  const count = clipped.reduce((sum, rail) => sum + rail.samples, 0);
  if (count === 0 || count > SQUARE * samples.length) return { ...NONE };
  const first = clipped.reduce((a, b) => (b.atIndex < a.atIndex ? b : a));
  return {
    samples: count,
    atIndex: first.atIndex,
    railDbfs: 20 * Math.log10(Math.abs(samples[first.atIndex])),
  };
}

/**
 * The step of quantisation: the smallest change, unless few values came up and they lie on no grid of it (a tone with a
 * whole number of samples a cycle); then it is not known, and taken for none.
 */
function stepOf(samples: Samples, rail: number, span: number, smallest: number): number {
  if (span >= FEWEST_STEPS * smallest) return smallest;
  for (let n = 0; n < samples.length; n++) {
    const steps = (rail - samples[n]) / smallest;
    if (Math.abs(steps - Math.round(steps)) > 0.01) return 0;
  }
  return smallest;
}
