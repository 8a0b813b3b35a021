import type { Curve } from '../../../lib/model/curve';
import { makeCurve } from '../../../lib/model/makeCurve';

/*
 * A bench of its own for the ladder's tests, independent of lib/rig: a high-passed unit in a made-up room, a knee in
 * closed form, complex Gaussian noise in every bin, runs that are off as a whole. The truth comes from the closed
 * forms by plain summation.
 */

export interface Bench {
  seed: number;
  frequencyHz: number[];
  rungs: number;
  commandedStepDb: number;
  trueStepDb: number;
  /** Standard deviation of whole runs, dB. */
  scatterDb: number;
  /** Band signal-to-noise ratio of the lowest rung around 40 Hz, without the room, dB; null for no noise. */
  snrDb: number | null;
  noiseSlopeDb: number;
  /** Sharpness p of 10/p lg(1 + 10^(p x/10)); null for no limit. */
  knee: number | null;
  /** Drive above the lowest rung at which the ceiling lies, by frequency. */
  headroomDb: (hz: number) => number;
}

export interface Simulated {
  curves: Curve[];
  noise: Curve;
  /** [rung][band], dB, and [band]: mean noise. */
  truth: (bandsHz: number[]) => { levelDb: number[][]; lossDb: number[][]; noiseDb: number[] };
}

export interface Random {
  uniform(): number;
  between(low: number, high: number): number;
  normal(): number;
}

/** Small seeded generator (mulberry32, public domain; from memory) with Box-Muller normals. */
export function randomOf(seed: number): Random {
  let state = Math.imul(seed + 1, 0x9e3779b1) >>> 0;
  const uniform = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  return {
    uniform,
    between: (low, high) => low + (high - low) * uniform(),
    normal: () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform()),
  };
}

export function logGrid(startHz: number, endHz: number, perOctave: number): number[] {
  const points = Math.floor(Math.log2(endHz / startHz) * perOctave) + 1;
  return Array.from({ length: points }, (_, i) => startHz * 2 ** (i / perOctave));
}

export function linearGrid(startHz: number, endHz: number, stepHz: number): number[] {
  return Array.from({ length: Math.floor((endHz - startHz) / stepHz) + 1 }, (_, i) => startHz + i * stepHz);
}

/** Loss of a soft knee, dB: 0 far below, `overDb` far above, 10/p lg 2 at the ceiling. */
export function kneeLoss(sharpness: number | null, overDb: number): number {
  return sharpness === null ? 0 : (10 / sharpness) * Math.log10(1 + 10 ** ((sharpness * overDb) / 10));
}

export function simulate(bench: Bench): Simulated {
  const random = randomOf(bench.seed);
  const { frequencyHz, rungs } = bench;
  const features = Array.from({ length: 8 }, () => ({
    hz: 15 * 12 ** random.uniform(),
    db: random.between(-10, 10),
    octaves: random.between(0.03, 0.13),
  }));
  const cornerHz = random.between(15, 30);
  const linear = (hz: number, rung: number) =>
    80 -
    10 * Math.log10(1 + (cornerHz / hz) ** 8) +
    features.reduce((sum, one) => sum + one.db * Math.exp(-0.5 * (Math.log2(hz / one.hz) / one.octaves) ** 2), 0) +
    rung * bench.trueStepDb;
  const loss = (hz: number, rung: number) => kneeLoss(bench.knee, rung * bench.trueStepDb - bench.headroomDb(hz));
  const noise = (hz: number) =>
    bench.snrDb === null ? Number.NEGATIVE_INFINITY : 80 - bench.snrDb + bench.noiseSlopeDb * Math.log2(hz / 40);

  /** One bin as an analyser reads it: a signal of known level plus complex Gaussian noise of known mean power. */
  const read = (levelDb: number, noiseDb: number) => {
    const perAxis = 10 ** (noiseDb / 20) * Math.SQRT1_2;
    const re = 10 ** (levelDb / 20) + perAxis * random.normal();
    const im = perAxis * random.normal();
    return 10 * Math.log10(re * re + im * im);
  };
  const curves = Array.from({ length: rungs }, (_, rung) => {
    const gainDb = bench.scatterDb * random.normal();
    const levelDb = frequencyHz.map((hz) => read(linear(hz, rung) - loss(hz, rung) + gainDb, noise(hz)));
    const about = { device: 'unit', setting: 'flat', driveDb: rung * bench.commandedStepDb };
    return makeCurve({ frequencyHz, levelDb, scale: 'spl', label: `rung ${rung}`, about });
  });
  const muted = frequencyHz.map((hz) => (bench.snrDb === null ? -200 : read(Number.NEGATIVE_INFINITY, noise(hz))));

  const meanDb = (of: (hz: number) => number, centreHz: number) => {
    const cells = 96; // midpoints of equal parts of the band in log frequency, weighted by their width in Hz
    let sum = 0;
    let width = 0;
    for (let i = 0; i < cells; i++) {
      const hz = centreHz * 10 ** (-0.05 + (0.1 * (i + 0.5)) / cells);
      sum += 10 ** (of(hz) / 10) * hz;
      width += hz;
    }
    return 10 * Math.log10(sum / width);
  };
  return {
    curves,
    noise: makeCurve({ frequencyHz, levelDb: muted, role: 'noise', scale: 'spl', label: 'muted' }),
    truth: (bandsHz) => {
      const rows = (of: (hz: number, rung: number) => number) =>
        Array.from({ length: rungs }, (_, rung) => bandsHz.map((centre) => meanDb((hz) => of(hz, rung), centre)));
      const levelDb = rows((hz, rung) => linear(hz, rung) - loss(hz, rung));
      const lossDb = rows(linear).map((row, rung) => row.map((level, band) => level - levelDb[rung][band]));
      return { levelDb, lossDb, noiseDb: bandsHz.map((centre) => meanDb(noise, centre)) };
    },
  };
}
