import { quantile } from './quantile';
import type { Samples } from './standingAt';

/** Half-waves that are cut off at one level. */
export interface Plateau {
  /** Level of the tops, full scale = 1, negative where the lower half-waves are cut. */
  level: number;
  halfWaves: number;
  /** Where the first one begins. */
  atIndex: number;
}

/** A half-wave begins and ends at that share of the plateau, and its top is above the other. */
const FOOT = 0.5;
const TOP = 0.97;
/** Share of a half-wave that its top lasts: 0.23 in a sine, 0.48 in one cut by 1 dB. */
const FLAT = 0.42;
const FEWEST = 12;
/** Noise near the foot makes crumbs, which are shorter, samples. */
const SHORTEST = 8;
/** Share of the half-waves at the plateau that must be flat. */
const MOST = 0.7;
/** They last differently long: a unit that distorts makes flat tops at some frequencies, an input at all. */
const LEAST_SPAN = 1.5;

/**
 * Find half-waves that are cut off at one level below full scale: a microphone or preamplifier that ran out of level.
 *
 * @param samples one channel. @param sign 1 looks at the upper, -1 at the lower half-waves. @param peak largest sample in
 * that polarity.
 *
 * Notes: cut by less than some 0.8 dB, or softly, tops stay too round to be told from those of a sine. Constants were
 * tuned on 240 captures of drawn rigs, which have none.
 *
 * @example
 * findPlateau(Float64Array.from({ length: 48000 }, (_, n) => Math.min(0.4, Math.sin(n ** 1.3 / 900))), 1, 0.4)?.level // 0.4
 */
export function findPlateau(samples: Samples, sign: 1 | -1, peak: number): Plateau | null {
  const rough = halfWaves(samples, sign, FOOT * peak, TOP * peak);
  if (rough.length < FEWEST) return null;
  // noise lifts the very largest
  const level = quantile(
    rough.map(({ top }) => top),
    0.9,
  );
  const near = halfWaves(samples, sign, FOOT * level, TOP * level).filter(({ above }) => above > 0);
  const flat = near.filter(({ above, length }) => above > FLAT * length);
  if (flat.length < FEWEST || flat.length < MOST * near.length) return null;
  const lengths = flat.map(({ length }) => length);
  if (quantile(lengths, 0.9) < LEAST_SPAN * quantile(lengths, 0.1)) return null;
  return { level: sign * level, halfWaves: flat.length, atIndex: flat[0].start };
}

interface HalfWave {
  start: number;
  length: number;
  /** Samples above the top's level. */
  above: number;
  top: number;
}

function halfWaves(samples: Samples, sign: 1 | -1, foot: number, above: number): HalfWave[] {
  const found: HalfWave[] = [];
  for (let at = nextAbove(samples, sign, 0, foot); at < samples.length; ) {
    const one = halfWave(samples, sign, at, foot, above);
    if (one.length >= SHORTEST) found.push(one);
    const end = one.start + one.length;
    at = nextAbove(samples, sign, at + SHORTEST * Math.max(1, Math.ceil((end - at) / SHORTEST)), foot);
  }
  return found;
}

/** A half-wave that counts cannot hide between samples that lie as far apart as it is long. */
function nextAbove(samples: Samples, sign: 1 | -1, from: number, foot: number): number {
  let at = from;
  while (at < samples.length && !(sign * samples[at] >= foot)) at += SHORTEST;
  return at;
}

/** The half-wave round a sample of it. */
function halfWave(samples: Samples, sign: 1 | -1, at: number, foot: number, above: number): HalfWave {
  let start = at;
  while (start > 0 && sign * samples[start - 1] >= foot) start--;
  let end = start;
  let top = 0;
  let count = 0;
  for (; end < samples.length; end++) {
    const value = sign * samples[end];
    if (!(value >= foot)) break;
    if (value >= above) count++;
    if (value > top) top = value;
  }
  return { start, length: end - start, above: count, top };
}
