import type { Curve } from '../../../lib/model/curve';
import { makeCurve } from '../../../lib/model/makeCurve';

/** Level over frequency, dB. */
export type Gain = (hz: number) => number;
type Random = () => number;

const lg = (power: number): number => 10 * Math.log10(power);

/** First-order shelf: half of its decibels at `hz`. */
export const firstOrderShelf =
  (hz: number, db: number): Gain =>
  (f) => {
    const [u, gain] = [(f / hz) ** 2, 10 ** (db / 20)];
    return lg((u + gain) / (u + 1 / gain));
  };

/** H(s) = A (s^2 + sqrt(A)/Q s + A) / (A s^2 + sqrt(A)/Q s + 1), A = 10^(dB/40): W3C, "Audio EQ Cookbook". */
export const cookbookShelf =
  (hz: number, db: number, q: number): Gain =>
  (f) => {
    const [x, a] = [f / hz, 10 ** (db / 40)];
    const damped = (a * x * x) / q ** 2;
    return lg((a * a * ((a - x * x) ** 2 + damped)) / ((1 - a * x * x) ** 2 + damped));
  };

/** Second-order high-pass. */
export const cutOff =
  (hz: number, q: number): Gain =>
  (f) => {
    const x = f / hz;
    return lg(x ** 4 / ((1 - x * x) ** 2 + (x / q) ** 2));
  };

/** Fourth-order Butterworth low-pass. */
export const lowPass4 =
  (hz: number): Gain =>
  (f) =>
    -lg(1 + (f / hz) ** 8);

export function logGrid(low: number, high: number, perOctave: number): number[] {
  return Array.from(
    { length: Math.floor(Math.log2(high / low) * perOctave) + 1 },
    (_, i) => low * 2 ** (i / perOctave),
  );
}

export function linearGrid(low: number, high: number, step: number): number[] {
  return Array.from({ length: Math.round((high - low) / step) + 1 }, (_, i) => low + i * step);
}

/** Uniform numbers from a seed: the 32-bit mixing of D. Lehmer's line, good enough for draws. */
export function randomOf(seed: number): Random {
  let state = (seed * 2654435761 + 12345) >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

function normal(random: Random): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}

interface Conditions {
  random: Random;
  label: string;
  /** Complex Gaussian, independent from bin to bin. */
  noise?: { at10HzDb: number; slopeDbPerOctave: number };
  /** Whether the curve carries the level of that noise. */
  known?: boolean;
  /** Two strong reflections: dips of 15 dB and more. */
  room?: boolean;
  /** Repeat scatter of the whole curve, and of a wave over frequency, dB. */
  gainDb?: number;
  shapeDb?: number;
}

/** One run of a sealed unit of 28 Hz, 90 dB, in the setting given. */
export function measure(setting: Gain, frequencyHz: number[], c: Conditions): Curve {
  const { random, label, noise, room, gainDb = 0, shapeDb = 0 } = c;
  const own = cutOff(28, 0.7);
  const scatter = [gainDb, shapeDb, shapeDb].map((sd) => sd * normal(random));
  const wave = 2 * Math.PI * random();
  const noiseLevel: Gain = (hz) => noise!.at10HzDb + noise!.slopeDbPerOctave * Math.log2(hz / 10);
  const levelDb = frequencyHz.map((hz) => {
    const phase = (2 * Math.PI * Math.log2(hz)) / 3.5 + wave;
    const off = scatter[0] + scatter[1] * Math.sin(phase) + scatter[2] * Math.cos(2 * phase);
    const signalDb = 90 + own(hz) + setting(hz) + off + (room ? roomDb(hz) : 0);
    if (!noise) return signalDb;
    const size = 10 ** (noiseLevel(hz) / 20) / Math.SQRT2;
    return lg((10 ** (signalDb / 20) + size * normal(random)) ** 2 + (size * normal(random)) ** 2);
  });
  return makeCurve({ frequencyHz, levelDb, label, ...(noise && c.known && { noiseDb: frequencyHz.map(noiseLevel) }) });
}

function roomDb(hz: number): number {
  const [first, second] = [2 * Math.PI * hz * 0.0093, 2 * Math.PI * hz * 0.021];
  return lg(
    (1 + 0.85 * Math.cos(first) + 0.5 * Math.cos(second)) ** 2 +
      (0.85 * Math.sin(first) + 0.5 * Math.sin(second)) ** 2 +
      1e-4,
  );
}

/** Draw a switch, two runs with and without it, and what is true of it; 25 to 40 dB above the noise at 10 Hz. */
export function drawPair(seed: number) {
  const random = randomOf(seed + 1000);
  const between = (low: number, high: number) => low + (high - low) * random();
  const pick = <T>(items: T[]): T => items[Math.floor(random() * items.length)];
  const hz = between(18, 45);
  const db = between(5, 9) * pick([-1, 1]);
  const kind = pick(['first', 'second', 'second', 'cut']);
  const truth =
    kind === 'first'
      ? firstOrderShelf(hz, db)
      : kind === 'second'
        ? cookbookShelf(hz, db, between(0.6, 0.9))
        : cutOff(between(10, 24), between(0.6, 1));
  const start = between(3, 7);
  const end = between(250, 1000);
  const grid = () => pick([logGrid(start, end, pick([24, 48, 96])), linearGrid(start, end, pick([0.1, 0.25, 0.5]))]);
  const own = grid();
  const at10HzDb = 90 + cutOff(28, 0.7)(10) + Math.min(0, truth(10)) - between(25, 40);
  const conditions = {
    random,
    noise: { at10HzDb, slopeDbPerOctave: between(-8, -3) },
    known: random() < 0.7,
    room: random() < 0.6,
    gainDb: 0.1,
    shapeDb: between(0, 0.02),
  };
  return {
    name: `${kind} ${hz.toFixed(1)} Hz ${db.toFixed(1)} dB, ${own.length} points from ${start.toFixed(1)} Hz`,
    a: measure(truth, own, { ...conditions, label: 'a' }),
    b: measure(flatSetting, random() < 0.3 ? grid() : own, { ...conditions, label: 'b' }),
    truth,
    hingeHz: kind === 'cut' ? null : hz,
  };
}

const flatSetting: Gain = () => 0;
