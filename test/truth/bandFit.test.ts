import { afterAll, describe, it } from 'vitest';
import { fitBand, makeCurve } from '../../lib';
import { cleanSignal } from '../../lib/rig/cleanSignal';
import { drawRig } from '../../lib/rig/drawRig';
import type { RigSpec } from '../../lib/rig/rigSpec';
import { Worst } from './worst';

// Truth by brute force on a ten times finer list, smoothed by plain summation: nothing of the library's own integral.
const worst = new Worst();
const FREE = 'ends of the range, free field, octaves';
const ROOM = 'width of the range, in a room, octaves';
const ROOM_ENDS = 'ends of the range, in a room, octaves';
const POINTS = '-3, -6, -10 dB points, free field, octaves';

const NO_POINT = 'no point where the curve ends before it';

const FINE = 960;
const COARSE = 96;

const octaves = (a: number, b: number) => Math.abs(Math.log2(a / b));

function logList(lowHz: number, highHz: number, perOctave: number): number[] {
  const points = Math.floor(Math.log2(highHz / lowHz) * perOctave + 1e-9) + 1;
  return Array.from({ length: points }, (_, i) => lowHz * 2 ** (i / perOctave));
}

/** 1/12-octave mean power by trapezoids over the samples of the window, ends included by interpolation of power. */
function smoothed(frequencyHz: number[], levelDb: number[]): number[] {
  const power = levelDb.map((l) => 10 ** (l / 10));
  const half = 10 ** (0.3 / 24);
  // cells of a log list: f df by the midpoint rule on a list fine enough for 1e-4 dB
  const reach = Math.log2(half) * FINE;
  return frequencyHz.map((_, i) => {
    const n = Math.min(reach, i, frequencyHz.length - 1 - i);
    let sum = 0;
    let weight = 0;
    const whole = Math.floor(n - 0.5);
    for (let k = -whole; k <= whole; k++) {
      sum += power[i + k] * frequencyHz[i + k];
      weight += frequencyHz[i + k];
    }
    const rest = n - 0.5 - whole; // part of the outermost cells that lies inside
    for (const k of [-whole - 1, whole + 1]) {
      if (i + k < 0 || i + k >= power.length || rest <= 0) continue;
      sum += rest * power[i + k] * frequencyHz[i + k];
      weight += rest * frequencyHz[i + k];
    }
    return weight > 0 ? 10 * Math.log10(sum / weight) : levelDb[i];
  });
}

/** Widest range whose levels stay within `heightDb`, by trying every start. */
function widest(frequencyHz: number[], levelDb: number[], heightDb: number): [number, number] {
  let best: [number, number] = [frequencyHz[0], frequencyHz[0]];
  for (let i = 0; i < frequencyHz.length; i++) {
    let low = levelDb[i];
    let high = levelDb[i];
    let j = i;
    while (j + 1 < frequencyHz.length) {
      low = Math.min(low, levelDb[j + 1]);
      high = Math.max(high, levelDb[j + 1]);
      if (high - low > heightDb) break;
      j++;
    }
    if (frequencyHz[j] / frequencyHz[i] > best[1] / best[0]) best = [frequencyHz[i], frequencyHz[j]];
  }
  return best;
}

function crossing(
  frequencyHz: number[],
  levelDb: number[],
  levelAtDb: number,
  from: number,
  step: 1 | -1,
): number | null {
  for (let i = from; i >= 0 && i < levelDb.length; i += step) if (levelDb[i] <= levelAtDb) return frequencyHz[i];
  return null;
}

function check(seed: number, rig: RigSpec): void {
  const list = (perOctave: number) => {
    const frequencyHz = logList(6, 6 * 2 ** 6.375, perOctave); // both lists end at 498 Hz
    return { frequencyHz, levelDb: cleanSignal(rig, frequencyHz).linearDb(rig.settings[seed % 2].equaliser, 0) };
  };
  const fine = list(FINE);
  const smooth = smoothed(fine.frequencyHz, fine.levelDb);
  const coarse = makeCurve(list(COARSE));
  const heightDb = [5, 3, 8][seed % 3];
  const truth = widest(fine.frequencyHz, smooth, heightDb);
  const fit = fitBand(coarse, { heightDb });
  const where = `seed ${seed}, ${heightDb} dB, ${truth[0].toFixed(2)}-${truth[1].toFixed(2)} Hz`;
  const ends = Math.max(octaves(fit.lowHz, truth[0]), octaves(fit.highHz, truth[1]));
  if (rig.room) {
    const wide = octaves(truth[1], truth[0]);
    worst.add(ROOM, fit.octaves - wide, 0.01, where);
    // two ranges of equal width may both be right
    if (!fit.runnerUp || wide - fit.runnerUp.octaves > 0.02) worst.add(ROOM_ENDS, ends, 0.01, where);
    return;
  }
  worst.add(FREE, ends, 0.003, where);
  const middle = fine.frequencyHz.findIndex((hz) => hz >= 56);
  for (const { downDb, lowHz, highHz } of fit.points) {
    const levelAtDb = fit.referenceDb - downDb;
    const low = crossing(fine.frequencyHz, smooth, levelAtDb, middle, -1);
    const high = crossing(fine.frequencyHz, smooth, levelAtDb, middle, 1);
    for (const [found, wanted, end] of [
      [lowHz, low, 'below'],
      [highHz, high, 'above'],
    ] as const) {
      const at = `${where}, -${downDb} dB ${end}`;
      if (wanted === null) worst.must(NO_POINT, found === null, at);
      else worst.add(POINTS, octaves(found ?? Number.NaN, wanted), 0.003, at);
    }
  }
}

describe('the band fit of noise-free rigs', () => {
  for (let seed = 0; seed < 20; seed++) {
    it(`is exact for seed ${seed}, in free field and in a room`, () => {
      check(seed, drawRig(seed, { room: undefined }));
      const { room } = drawRig(seed);
      if (room) check(seed, drawRig(seed));
    });
  }

  it('has the ends of the widest range', () => {
    worst.hold(FREE, 20);
    worst.hold(ROOM, 10);
    worst.hold(ROOM_ENDS, 5);
    worst.hold(POINTS, 60);
  });

  afterAll(() => worst.print('Band fit: worst errors against brute force on noise-free curves'));
});
