import type { Random } from '../../../lib/rig/random';

/** Grid and values as they will be written, so already rounded. */
export interface DrawnCurve {
  frequencyHz: number[];
  levelDb: number[];
  phaseDeg: number[];
  noiseDb: number[];
  places: { frequency: number; level: number; phase: number };
}

const NOMINAL = [10, 12.5, 16, 20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000];

/** A response like that of a subwoofer in a room, on one of the grids in use. */
export function drawCurve(random: Random, few: boolean): DrawnCurve {
  const places = {
    frequency: random.pick([0, 1, 2, 3, 4]),
    level: random.pick([1, 2, 3]),
    phase: random.pick([0, 1, 2]),
  };
  const frequencyHz = drawGrid(random, few, places);
  const cornerHz = random.between(15, 60);
  const order = random.pick([2, 4]);
  const top = random.pick([0, 0, -25, 70, 85, 95, 105]) + random.between(-3, 3);
  const upperHz = random.between(80, 400);
  const ripple = random.between(0.5, 5);
  const shift = random.between(0, 6);
  const delay = random.between(0, 0.01);
  const floor = top > 50 ? 18 : -200;
  const levelDb = frequencyHz.map((f) => {
    const low = -10 * Math.log10(1 + (cornerHz / f) ** (2 * order));
    const high = -10 * Math.log10(1 + (f / upperHz) ** 4);
    const level = top + Math.max(low, -60) + Math.max(high, -60) + ripple * Math.sin(5 * Math.log(f) + shift);
    return round(Math.max(level, floor + ripple * Math.sin(9 * Math.log(f))), places.level);
  });
  const phaseDeg = frequencyHz.map((f) => {
    const degrees = 180 - 90 * order * (f / (f + cornerHz)) - 360 * f * delay;
    return round(((((degrees + 180) % 360) + 360) % 360) - 180, places.phase);
  });
  const noiseDb = frequencyHz.map((f) => round(top - 35 - 6 * Math.log2(f / 20) + random.normal(), places.level));
  return { frequencyHz, levelDb, phaseDeg, noiseDb, places };
}

function drawGrid(random: Random, few: boolean, places: { frequency: number }): number[] {
  if (few) places.frequency = Math.max(1, places.frequency);
  const count = few ? Math.floor(random.between(2, 7)) : Math.floor(random.between(16, 160));
  const from = random.pick([2, 5, 10, 20]);
  const to = random.pick([120, 200, 500, 1000, 20_000]);
  const way = random.pick(['log', 'log', 'linear', 'nominal', 'uneven']);
  if (way === 'nominal' && !few) {
    places.frequency = 1;
    return NOMINAL.slice(random.pick([0, 2, 3]));
  }
  let uneven = 0;
  const grid = Array.from({ length: count }, (_, i) => {
    const t = count > 1 ? i / (count - 1) : 0;
    if (way === 'linear') return from + (to - from) * t;
    if (way === 'uneven') uneven += i === 0 ? 0 : random.between(0.2, 1.8) / (count - 1);
    return from * (to / from) ** (way === 'uneven' ? Math.min(uneven, 2) : t);
  }).map((f) => round(f, places.frequency));
  return grid.filter((f, i) => i === 0 || f > grid[i - 1]);
}

export function round(value: number, places: number): number {
  return Number(value.toFixed(places)) + 0;
}
