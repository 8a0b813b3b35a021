import type { Curve } from '../../../lib/model/curve';
import { makeCurve } from '../../../lib/model/makeCurve';
import { predictTransfer } from '../../../lib/room/predictTransfer';
import type { Position, Room } from '../../../lib/room/room';

/** A repeatable source of random numbers: Weyl sequence with a mixing step. */
export function randomFrom(seed: number) {
  let state = Math.imul(seed + 1, 0x9e3779b1) >>> 0;
  const uniform = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
  const normal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  return { uniform, normal, between: (low: number, high: number) => low + (high - low) * uniform() };
}

export type Random = ReturnType<typeof randomFrom>;

/** 30 to 200 m^3, 0.25 to 0.8 s, positions at random but a metre apart. */
export function drawRoom(random: Random): Room {
  for (;;) {
    const [lengthM, widthM, heightM] = [random.between(3.5, 10), random.between(2.7, 7), random.between(2.2, 3.6)];
    const volume = lengthM * widthM * heightM;
    const place = (): Position => [
      random.between(0.2, lengthM - 0.2),
      random.between(0.2, widthM - 0.2),
      random.between(0.2, 1.8),
    ];
    const [source, microphone] = [place(), place()];
    const apart = Math.hypot(...source.map((x, i) => x - microphone[i]));
    if (volume < 30 || volume > 200 || apart < 1) continue;
    return { lengthM, widthM, heightM, decayS: random.between(0.25, 0.8), source, microphone };
  }
}

/** A unit of second or fourth order with a low-pass: level in dB over frequency. */
export function drawUnit(random: Random): (hz: number) => number {
  const [f0, q, corner, tilt] = [
    random.between(12, 28),
    random.between(0.5, 1),
    random.between(100, 250),
    random.between(-1, 1),
  ];
  const vented = random.uniform() < 0.5;
  return (hz) =>
    highPassDb(hz / f0, q) +
    (vented ? highPassDb(hz / f0, 1.2) : 0) +
    highPassDb(corner / hz, Math.SQRT1_2) +
    tilt * Math.log2(hz / 50);
}

function highPassDb(x: number, q: number): number {
  return 10 * Math.log10(x ** 4 / ((1 - x * x) ** 2 + (x / q) ** 2));
}

export function linearGrid(stepHz: number, fromHz: number, toHz: number): number[] {
  return Array.from({ length: Math.floor((toHz - fromHz) / stepHz) + 1 }, (_, i) => fromHz + i * stepHz);
}

export function logGrid(pointsPerOctave: number, fromHz: number, toHz: number): number[] {
  const count = Math.floor(pointsPerOctave * Math.log2(toHz / fromHz)) + 1;
  return Array.from({ length: count }, (_, i) => fromHz * 2 ** (i / pointsPerOctave));
}

export interface Run {
  frequencyHz: number[];
  /** Without any noise, dB. */
  cleanDb: number[];
  /** Level of the noise, dB; complex normal, independent from bin to bin. */
  noiseDb: number;
  /** Standard deviation of the run's gain, and of each bin, dB. */
  scatterDb: number;
  driveDb?: number;
  device?: string;
  setting?: string;
}

/** One measured response. */
export function measureRun(random: Random, run: Run): Curve {
  const gain = random.normal() * run.scatterDb + (run.driveDb ?? 0);
  const perAxis = 10 ** (run.noiseDb / 20) * Math.SQRT1_2;
  const levelDb = run.cleanDb.map((clean) => {
    const amplitude = 10 ** ((clean + gain + random.normal() * run.scatterDb) / 20);
    return 10 * Math.log10((amplitude + perAxis * random.normal()) ** 2 + (perAxis * random.normal()) ** 2);
  });
  const about = { device: run.device, setting: run.setting, driveDb: run.driveDb };
  return makeCurve({ frequencyHz: run.frequencyHz, levelDb, about, label: `${run.device}` });
}

/** Power mean over the bins between 20 and 150 Hz, dB. */
export function meanLevelDb(frequencyHz: number[], levelDb: number[]): number {
  const inside = levelDb.filter((_, i) => frequencyHz[i] >= 20 && frequencyHz[i] <= 150);
  return 10 * Math.log10(inside.reduce((sum, level) => sum + 10 ** (level / 10), 0) / inside.length);
}

export function transferDb(room: Room, frequencyHz: number[]): number[] {
  return predictTransfer(room, frequencyHz).levelDb;
}

/** Dips by the plain definition: power mean over 1/24 octave (base 10), topographic prominence. */
export function dipsByDefinition(
  frequencyHz: number[],
  levelDb: number[],
  leastDb: number,
): { frequencyHz: number; prominenceDb: number; levelDb: number }[] {
  const f = frequencyHz;
  const y = smoothByDefinition(f, levelDb);
  const dips: { frequencyHz: number; prominenceDb: number; levelDb: number }[] = [];
  for (let i = 1; i < y.length - 1; i++) {
    if (!(y[i] < y[i - 1] && y[i] <= y[i + 1]) || f[i] < 15 || f[i] > 200) continue;
    const sides = [-1, 1].map((step) => {
      let highest = y[i];
      for (let k = i + step; k >= 0 && k < y.length && y[k] >= y[i]; k += step) highest = Math.max(highest, y[k]);
      return highest;
    });
    const prominenceDb = Math.min(...sides) - y[i];
    if (prominenceDb < leastDb) continue;
    const left = (y[i] - y[i - 1]) / Math.log2(f[i] / f[i - 1]);
    const right = (y[i + 1] - y[i]) / Math.log2(f[i + 1] / f[i]);
    const centre = 0.5 * Math.log2(f[i - 1] * f[i]) - (0.5 * left * Math.log2(f[i + 1] / f[i - 1])) / (right - left);
    dips.push({ frequencyHz: 2 ** centre, prominenceDb, levelDb: y[i] });
  }
  return dips;
}

/** The mean of the piecewise-linear power, by plain trapezoids over 24 steps of the window. */
function smoothByDefinition(f: number[], levelDb: number[]): number[] {
  const power = levelDb.map((level) => 10 ** (level / 10));
  const half = 10 ** (0.3 / 48);
  let k = 0;
  const at = (hz: number) => {
    while (k > 0 && f[k] > hz) k--;
    while (k < f.length - 2 && f[k + 1] < hz) k++;
    return power[k] + ((power[k + 1] - power[k]) * (hz - f[k])) / (f[k + 1] - f[k]);
  };
  return f.map((hz) => {
    const ratio = Math.min(half, hz / f[0], f[f.length - 1] / hz);
    const [low, high] = [hz / ratio, hz * ratio];
    let sum = 0;
    for (let s = 0; s <= 24; s++) sum += (s % 24 === 0 ? 0.5 : 1) * at(low + ((high - low) * s) / 24);
    return 10 * Math.log10(sum / 24);
  });
}

export const octavesApart = (a: number, b: number) => Math.abs(Math.log2(a / b));
