import { type ExcessPhase, POINTS_PER_OCTAVE } from './excessPhase';
import { fitLine, type LineFit } from './fitLine';
import { phasesFromAbove } from './logPhase';

/** Delay, and the clocks' difference, that explain an excess phase. */
export interface DelayFit {
  /** With the clocks taken to be equal: delay, s, and what is left of the phase, root mean square, radians. */
  equal: Settled;
  /** With their difference fitted as well. */
  differing: Settled;
  /** How the level goes on above its range, judged by the level alone, nepers at a frequency. */
  levelRoll: Roll;
}

/** A fit, and how far others that explain the response about as well are from it: delays, s, and clocks, as ratios. */
export type Settled = LineFit & { delaySpreadS: number; clockSpread: number };

/** Roll-off at a frequency, nepers. */
export type Roll = (hz: number) => number;

const STEP = Math.LN2 / POINTS_PER_OCTAVE;
/** Low-passes tried above the range: orders, and corners against its end. */
const ORDERS = [1, 2, 3, 4, 6, 8];
const NEXT_CORNER = 1.085;
const CORNERS = Array.from({ length: 32 }, (_, i) => 0.12 * NEXT_CORNER ** i);
const KINDS = ['equal', 'differing'] as const;
type Kind = (typeof KINDS)[number];
/** Of them, those that are looked at closely are not so much worse than the best. */
const CLOSE = 1.6;
/** A low-pass must leave no more than that share of the bend that is there without it. */
const CLEAR_BEND = 0.7;
/** Upper part of the range that is fitted, octaves, and every how many points. */
const FITTED_OCTAVES = 3;
const EVERY = 8;
/** Octaves that a roll-off is followed above the range, and steps of the grid taken as one. */
const ABOVE = 6;
const WIDE = 10;
/** Rounds of weighing points down. */
const ROUNDS = 3;
/** Fits whose cost is no more above the least may be the true one as well; tuned on the rooms of `findDelay`. */
const AS_GOOD = 4;
/** Misfits below these are as good as none: radians, nepers. */
const GOOD_RAD = 0.003;
const GOOD_NEPERS = 0.01;

/**
 * Fit delay and clock to an excess phase.
 *
 * @param excess of the response. @param sweepTimeS time of a frequency in the sweep.
 *
 * Notes: how the level goes on above the measured range is not known, but its phase reaches down into it. So low-passes
 * of several orders and corners are tried, and the one is taken that makes both the level below it straight and the
 * phase that of a delay. Single points that a room delays further are weighed down.
 */
export function fitDelay(excess: ExcessPhase, sweepTimeS: (hz: number) => number): DelayFit {
  const points = Math.min(excess.hz.length, FITTED_OCTAVES * POINTS_PER_OCTAVE);
  const from = excess.hz.length - points;
  const count = Math.ceil(points / EVERY);
  const pick = (column: Float64Array) => Float64Array.from({ length: count }, (_, m) => column[from + m * EVERY]);
  const [hz, level, phase] = [pick(excess.hz), pick(excess.level), pick(excess.phase)];
  const time = hz.map(sweepTimeS);
  const top = excess.hz[excess.hz.length - 1];
  const wides = (ABOVE * POINTS_PER_OCTAVE) / WIDE;
  const tops = Float64Array.from({ length: wides + 1 }, (_, k) => top * Math.exp(k * WIDE * STEP));
  const weights = phasesFromAbove(STEP, points, EVERY, WIDE, wides);
  const found: Partial<Record<Kind, Tried & { straight: Float64Array; cost: number }>> = {};
  const fits: (LineFit & { kind: Kind; cost: number })[] = [];
  const judge = (tried: Tried, kinds: readonly Kind[]) => {
    const above = tops.map(rollOf(tried));
    const straight = lessRises(phase, weights, above);
    for (const kind of kinds) {
      const line = fitLine(hz, straight, kind === 'differing' ? time : undefined, 0);
      const cost = Math.log(line.leftRad ** 2 + GOOD_RAD ** 2) + Math.log(tried.bend ** 2 + GOOD_NEPERS ** 2);
      fits.push({ ...line, kind, cost });
      if (cost < (found[kind]?.cost ?? Number.POSITIVE_INFINITY)) found[kind] = { ...tried, straight, cost };
    }
  };
  const tryOut = (order: number, corner: number): Tried => ({
    order,
    corner,
    bend: bendOf(level, hz, rollOf({ order, corner })),
  });
  const tried = [tryOut(0, top), ...ORDERS.flatMap((order) => CORNERS.map((share) => tryOut(order, share * top)))];
  const straightest = tried.reduce((a, b) => (b.bend < a.bend * 0.98 ? b : a));
  // echoes bend a level too: only a clear bend is a low-pass
  const plainest = straightest.bend < CLEAR_BEND * tried[0].bend ? straightest : tried[0];
  for (const one of tried) if (one.bend <= CLOSE * straightest.bend + GOOD_NEPERS) judge(one, KINDS);
  for (const kind of KINDS) {
    for (let step = NEXT_CORNER ** 0.5; step > 1.004; step = step ** 0.5) {
      const { order, corner } = found[kind]!;
      if (order > 0) for (const near of [corner * step, corner / step]) judge(tryOut(order, near), [kind]);
    }
  }
  const settled = (kind: Kind) => {
    const { straight, cost } = found[kind]!;
    const line = fitLine(hz, straight, kind === 'differing' ? time : undefined, ROUNDS);
    const near = fits.filter((fit) => fit.kind === kind && fit.cost < cost + AS_GOOD);
    const spread = (of: (fit: LineFit) => number) => Math.max(...near.map((fit) => Math.abs(of(fit) - of(line))));
    return {
      ...line,
      delayS: excess.aroundS + line.delayS,
      delaySpreadS: spread((fit) => fit.delayS),
      clockSpread: spread((fit) => fit.clock),
    };
  };
  return {
    equal: settled('equal'),
    differing: settled('differing'),
    levelRoll: rollOf(plainest),
  };
}

/** A phase without what each rise of the level adds to it. */
function lessRises(phase: Float64Array, weights: Float64Array[], level: Float64Array): Float64Array {
  const out = new Float64Array(phase.length);
  for (let m = 0; m < out.length; m++) {
    const weight = weights[m];
    let more = 0;
    for (let k = 0; k < weight.length; k++) more += weight[k] * (level[k + 1] - level[k]);
    out[m] = phase[m] - more;
  }
  return out;
}

interface Tried {
  /** 0 where there is no low-pass. */
  order: number;
  corner: number;
  /** How far the level is from the roll-off, root mean square, nepers. */
  bend: number;
}

function rollOf({ order, corner }: Pick<Tried, 'order' | 'corner'>): Roll {
  return order === 0 ? () => 0 : (hz) => -0.5 * Math.log1p((hz / corner) ** (2 * order));
}

/** How far a level is from a roll-off, root mean square, nepers. */
function bendOf(level: Float64Array, hz: Float64Array, roll: Roll): number {
  let [sum, squares] = [0, 0];
  for (let i = 0; i < hz.length; i++) {
    const d = level[i] - roll(hz[i]);
    sum += d;
    squares += d * d;
  }
  return Math.sqrt(Math.max(0, squares / hz.length - (sum / hz.length) ** 2));
}
