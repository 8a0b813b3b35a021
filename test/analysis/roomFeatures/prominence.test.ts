import { describe, expect, it } from 'vitest';
import { prominenceAt, reliefOf } from '../../../lib/analysis/roomFeatures/prominence';
import { refineExtreme } from '../../../lib/analysis/roomFeatures/refineExtreme';
import { type RoomTrace, roomTrace } from '../../../lib/analysis/roomFeatures/roomTrace';
import reference from '../../reference/prominence.json';
import { linearGrid, measureRun, randomFrom } from './roomScene';

function traceOf(levelDb: number[], spread = 0, octaves = 0.01): RoomTrace {
  const octave = Float64Array.from(levelDb, (_, i) => 5 + octaves * i);
  return {
    about: {},
    frequencyHz: octave.map((x) => 2 ** x),
    octave,
    levelDb: Float64Array.from(levelDb),
    spread: new Float64Array(levelDb.length).fill(spread),
    snrDb: new Float64Array(levelDb.length).fill(50),
  };
}

describe('topographic prominence', () => {
  it('is that of scipy.signal.peak_prominences where lows differ by more than the noise', () => {
    let compared = 0;
    for (const { levelDb, lows, prominenceDb } of reference.cases) {
      const relief = reliefOf(traceOf(levelDb), 'dip');
      expect(relief.lows).toEqual(lows);
      lows.forEach((low, k) => {
        // two lows within 0.3 dB may be either way round for us, and scipy knows no shoulder that is missing
        const twin = lows.some((other) => other !== low && Math.abs(levelDb[other] - levelDb[low]) < 0.3);
        if (twin || prominenceDb[k] < 0.5) return;
        expect(prominenceAt(relief, low, Number.POSITIVE_INFINITY)?.db).toBeCloseTo(prominenceDb[k], 4);
        compared++;
      });
    }
    expect(compared).toBeGreaterThan(25);
  });

  it('is refused where noise alone could have made the low', () => {
    const levels = Array.from({ length: 61 }, (_, i) => -4 * Math.exp(-(((i - 30) / 8) ** 2)));
    const prominence = (spread: number) => prominenceAt(reliefOf(traceOf(levels, spread), 'dip'), 30, 10);
    expect(prominence(0.05)?.db).toBeCloseTo(4, 1);
    expect(prominence(0.3)).toBeNull();
  });

  it('needs a shoulder on either side', () => {
    const relief = reliefOf(traceOf(Array.from({ length: 40 }, (_, i) => Math.abs(i - 3) * 0.5)), 'dip');
    // 1.5 dB on the left are all there is
    expect(prominenceAt(relief, 3, 10)?.db).toBeCloseTo(1.5, 9);
  });
});

describe('the place of a low', () => {
  it('is the vertex between points where nothing is noisy', () => {
    const levels = Array.from({ length: 31 }, (_, i) => 0.1 * (i - 15.3) ** 2);
    const relief = reliefOf(traceOf(levels), 'dip');
    expect(refineExtreme(relief, 15, 5)).toBeCloseTo(5 + 0.153, 9);
  });

  it('is steadier than the lowest point where noise fills the bottom', () => {
    // |f / 40 - 1| is a zero of the transfer at 40 Hz; noise fills 2.5 Hz to either side of it
    const random = randomFrom(5);
    const frequencyHz = linearGrid(0.2, 20, 80);
    const cleanDb = frequencyHz.map((hz) => 20 * Math.log10(Math.abs(hz / 40 - 1) + 1e-9));
    const noise = { power: new Float64Array(301).fill(10 ** -2.4), scatter: new Float64Array(301) };
    const errors = Array.from({ length: 80 }, () => {
      const run = measureRun(random, { frequencyHz, cleanDb, noiseDb: -24, scatterDb: 0 });
      const trace = roomTrace(run, [20, 80], noise)!;
      const lowest = trace.levelDb.indexOf(Math.min(...trace.levelDb));
      const exact = Math.log2(40);
      return [refineExtreme(reliefOf(trace, 'dip'), lowest, 20) - exact, trace.octave[lowest] - exact];
    });
    const rms = (k: number) => Math.sqrt(errors.reduce((sum, e) => sum + e[k] ** 2, 0) / errors.length);
    expect(rms(0)).toBeLessThan(0.8 * rms(1));
    expect(rms(0)).toBeLessThan(0.04);
  });
});
