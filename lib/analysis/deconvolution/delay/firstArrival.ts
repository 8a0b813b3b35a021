import { type ExcessPhase, POINTS_PER_OCTAVE } from './excessPhase';
import { minimumPhaseOf } from './logPhase';

/** An arrival that strong against the strongest is the first. */
const FIRST = 0.35;
/** Time before and after the rough arrival that is searched, s. */
const BEFORE_S = 0.05;
const AFTER_S = 0.03;
/** Pulses that are told apart, and rounds of mending them. */
const PULSES = 16;
const ROUNDS = 6;
const STEP = Math.LN2 / POINTS_PER_OCTAVE;
/** Points of the response to one of its broad shape. */
const COARSE = 4;
/** Points of a pulse to a period of the highest frequency. */
const FINE = 8;
/** Every how many points of the response are used. */
const EVERY = 4;

interface Pulse {
  at: number;
  gain: number;
}

/**
 * Arrival of the direct sound where a room adds to it: the first strong of the pulses that a response falls apart into
 * when its broad shape is taken out.
 *
 * @param excess of the response. @param roll how its level goes on above its range, nepers.
 * @returns seconds.
 *
 * Notes: the broad shape is the level over an octave, with the phase that goes with it. What is left is a train of
 * pulses of the width of the band; they are found one by one, strongest first, and each is then put right with the
 * others taken away. Pulses closer than about half a period of the highest frequency are one.
 */
export function firstArrival({ hz, level, rawPhase, aroundS }: ExcessPhase, roll: (hz: number) => number): number {
  const { smooth, phase } = broadShape(level, hz, roll);
  const top = hz[hz.length - 1];
  const weights = new Float64Array(hz.length);
  let total = 0;
  for (let i = 0; i < hz.length; i += EVERY) {
    weights[i] = hz[i] * Math.sin((Math.PI * (hz[i] - hz[0])) / (top - hz[0]));
    total += weights[i];
  }
  const dt = 1 / (FINE * top);
  const count = Math.ceil((BEFORE_S + AFTER_S) / dt);
  const train = new Float64Array(count);
  const shape = new Float64Array(count);
  for (let i = 0; i < hz.length; i += EVERY) {
    const gain = (weights[i] / total) * Math.exp(level[i] - smooth[i]);
    const turn = 2 * Math.PI * hz[i];
    const start = rawPhase[i] - phase[i] - turn * BEFORE_S;
    const share = weights[i] / total;
    // a rotation a step instead of a cosine
    const c = Math.cos(turn * dt);
    const d = Math.sin(turn * dt);
    let re = gain * Math.cos(start);
    let im = gain * Math.sin(start);
    let one = share;
    let two = 0;
    for (let n = 0; n < count; n++) {
      train[n] += re;
      shape[n] += one;
      const nextRe = re * c - im * d;
      im = re * d + im * c;
      re = nextRe;
      const nextOne = one * c - two * d;
      two = one * d + two * c;
      one = nextOne;
    }
  }
  const pulses = takeApart(train, shape);
  const strongest = Math.max(...pulses.map(({ gain }) => Math.abs(gain)));
  const first = pulses.filter(({ gain }) => Math.abs(gain) > FIRST * strongest).reduce((a, b) => (b.at < a.at ? b : a));
  return aroundS + first.at * dt - BEFORE_S;
}

/** Level over an octave, carried on above the range, and its phase. */
function broadShape(level: Float64Array, hz: Float64Array, roll: (hz: number) => number) {
  const half = POINTS_PER_OCTAVE / 2;
  const count = level.length;
  const above = 5 * POINTS_PER_OCTAVE;
  const sums = new Float64Array(count + 1);
  const rolled = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    rolled[i] = roll(hz[i]);
    sums[i + 1] = sums[i] + level[i] - rolled[i];
  }
  const smooth = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const reach = Math.min(half, i, count - 1 - i);
    smooth[i] = (sums[i + reach + 1] - sums[i - reach]) / (2 * reach + 1) + rolled[i];
  }
  // as smooth as it is, a coarse grid does for its phase
  const before = 3 * POINTS_PER_OCTAVE;
  const slope = Math.min(Math.max((smooth[half] - smooth[0]) / half, 0), 6 * STEP);
  const end = smooth[count - 1] - rolled[count - 1];
  const coarse = Float64Array.from({ length: Math.ceil((before + count + above) / COARSE) }, (_, m) => {
    const i = m * COARSE - before;
    if (i < 0) return smooth[0] + slope * i;
    return i < count ? smooth[i] : end + roll(hz[count - 1] * Math.exp((i - count + 1) * STEP));
  });
  const coarsePhase = minimumPhaseOf(coarse, COARSE * STEP);
  const phase = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const place = (before + i) / COARSE;
    const m = Math.floor(place);
    phase[i] = coarsePhase[m] + (place - m) * (coarsePhase[m + 1] - coarsePhase[m]);
  }
  return { smooth, phase };
}

/** Strongest first; then each is mended with all others taken away. */
function takeApart(train: Float64Array, shape: Float64Array): Pulse[] {
  const left = train.slice();
  const pulses: Pulse[] = [];
  for (let i = 0; i < PULSES; i++) {
    const pulse = strongestOf(left);
    pulses.push(pulse);
    add(left, shape, pulse, -1);
  }
  for (let round = 0; round < ROUNDS; round++) {
    for (const pulse of pulses) {
      add(left, shape, pulse, 1);
      const near = strongestOf(left, pulse.at - FINE / 2, pulse.at + FINE / 2);
      pulse.at = near.at;
      pulse.gain = near.gain;
      add(left, shape, pulse, -1);
    }
  }
  return pulses;
}

function strongestOf(train: Float64Array, from = 1, to = train.length - 2): Pulse {
  const [low, high] = [Math.max(1, Math.round(from)), Math.min(train.length - 2, Math.round(to))];
  let at = low;
  for (let n = low; n <= high; n++) if (Math.abs(train[n]) > Math.abs(train[at])) at = n;
  const [a, b, c] = [train[at - 1], train[at], train[at + 1]];
  const bend = a - 2 * b + c;
  const off = Math.abs(bend) > 1e-15 ? (0.5 * (a - c)) / bend : 0;
  const shift = Math.min(Math.max(off, -1), 1);
  return { at: at + shift, gain: b - 0.25 * (a - c) * shift };
}

function add(train: Float64Array, shape: Float64Array, { at, gain }: Pulse, sign: number): void {
  for (let n = 0; n < train.length; n++) {
    const d = Math.abs(n - at);
    const k = Math.floor(d);
    if (k + 1 >= shape.length) continue;
    train[n] += sign * gain * (shape[k] + (d - k) * (shape[k + 1] - shape[k]));
  }
}
