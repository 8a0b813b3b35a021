// A small simulator of measured roll-offs, closed forms only, independent of the library and of its virtual bench.
import type { Curve } from '../../../lib/model/curve';
import { makeCurve } from '../../../lib/model/makeCurve';

export interface Random {
  (): number;
  between(low: number, high: number): number;
  normal(): number;
  pick<T>(items: readonly T[]): T;
}

/** Random numbers from a seed (mulberry32, public domain algorithm). */
export function randomFrom(seed: number): Random {
  let state = seed >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
  const between = (low: number, high: number) => low + (high - low) * next();
  return Object.assign(next, {
    between,
    normal: () => Math.sqrt(-2 * Math.log(next() + 1e-12)) * Math.cos(2 * Math.PI * next()),
    pick: <T>(items: readonly T[]): T => items[Math.floor(next() * items.length)],
  });
}

export const logGrid = (low: number, high: number, count: number) =>
  Array.from({ length: count }, (_, i) => low * (high / low) ** (i / (count - 1)));

export const linearGrid = (low: number, high: number, count: number) =>
  Array.from({ length: count }, (_, i) => low + ((high - low) * i) / (count - 1));

/** Second-order high-pass, dB: |H|^2 = 1 / (1 + (1/Q^2 - 2) w + w^2), w = (f0/f)^2. */
export function highPass(hz: number, f0Hz: number, q: number): number {
  const w = (f0Hz / hz) ** 2;
  return -10 * Math.log10(1 + (1 / q ** 2 - 2) * w + w * w);
}

export const highPass1 = (hz: number, f0Hz: number) => -10 * Math.log10(1 + (f0Hz / hz) ** 2);

const lowPasses = {
  none: () => 0,
  butterworth2: (hz: number, fc: number) => -10 * Math.log10(1 + (hz / fc) ** 4),
  butterworth4: (hz: number, fc: number) => -10 * Math.log10(1 + (hz / fc) ** 8),
  twice2: (hz: number, fc: number) => -20 * Math.log10(1 + (hz / fc) ** 4),
};

/** Sum of six waves over log frequency, rms 1. */
export function waves(random: Random, shortest: number, longest: number): (hz: number) => number {
  const parts = Array.from({ length: 6 }, () => [random.between(shortest, longest), random.between(0, 7)]);
  return (hz) =>
    parts.reduce((sum, [octaves, phase]) => sum + Math.sin((2 * Math.PI * Math.log2(hz)) / octaves + phase), 0) /
    Math.sqrt(3);
}

/** Levels as an analyser shows them: in each bin a complex Gaussian noise is added to the signal. */
export function measured(signalDb: number[], noiseDb: number[], random: Random): number[] {
  return signalDb.map((signal, i) => {
    const deviation = 10 ** (noiseDb[i] / 20) * Math.SQRT1_2;
    const real = 10 ** (signal / 20) + deviation * random.normal();
    const imaginary = deviation * random.normal();
    return 10 * Math.log10(real * real + imaginary * imaginary);
  });
}

export interface DrawnRollOff {
  name: string;
  curve: Curve;
  /** Where the asymptotes meet. */
  f0Hz: number;
  q: number | null;
}

/** Draw a unit, a grid and a noise: 30 to 42 dB signal-to-noise ratio in the band, falling towards the bottom. */
export function drawRollOff(seed: number, kind: 'sealed' | 'vented', roomDb = 0, points?: number): DrawnRollOff {
  const random = randomFrom(1000 + seed * 7919);
  const f0Hz = random.between(12, 60);
  const q = random.between(0.4, 1.5);
  const spread = random.between(0.9, 1.1);
  const sections =
    kind === 'sealed'
      ? [[f0Hz, q]]
      : [
          [f0Hz * spread, random.between(0.5, 0.65)],
          [f0Hz / spread, random.between(1, 1.5)],
        ];
  const count = points ?? Math.round(Math.exp(random.between(Math.log(100), Math.log(5000))));
  const start = random.between(2, Math.min(10, f0Hz / 2.5));
  const end = random.between(200, 500);
  const grid = random() < 0.5 ? logGrid(start, end, count) : linearGrid(start, end, Math.max(count, 600));
  const lowPass = random.pick(Object.keys(lowPasses) as (keyof typeof lowPasses)[]);
  const cornerHz = Math.max(random.between(110, 200), 5 * f0Hz);
  const snr = random.between(30, 42) + (kind === 'vented' ? 8 : 0);
  const noiseSlope = random.between(-5, 0);
  const repeat = waves(random, 0.7, 3);
  const room = waves(random, 0.2, 1.2);
  const signalDb = grid.map(
    (hz) =>
      90 +
      sections.reduce((sum, [f, quality]) => sum + highPass(hz, f, quality), 0) +
      lowPasses[lowPass](hz, cornerHz) +
      0.02 * repeat(hz) +
      roomDb * room(hz),
  );
  const noiseDb = grid.map((hz) => 90 - snr + noiseSlope * Math.log2(hz / 50));
  const levelDb = measured(signalDb, noiseDb, random);
  const name = `seed ${seed}: ${kind}, f0 ${f0Hz.toFixed(1)} Hz, Q ${q.toFixed(2)}, ${grid.length} points from ${start.toFixed(1)} Hz, ${lowPass} ${cornerHz.toFixed(0)} Hz, snr ${snr.toFixed(0)} dB`;
  return {
    name,
    curve: makeCurve({ frequencyHz: grid, levelDb, noiseDb, label: name }),
    f0Hz,
    q: kind === 'sealed' ? q : null,
  };
}
