import * as echarts from 'echarts';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { frameOption, makeFrame } from '../../lib/report/charts/frame';
import { logScale, TICKS_HZ, tickLabels, ticksIn } from '../../lib/report/charts/frequencyAxis';
import { layouts } from '../../lib/report/charts/layout';
import { levelRange } from '../../lib/report/charts/levelRange';
import { LIGHT } from '../../lib/report/charts/palette';
import { stackLabels } from '../../lib/report/charts/stackLabels';
import { reportWords } from '../../lib/words/reportWords';

describe('axes', () => {
  it('lie exactly where marks drawn by hand expect them', () => {
    for (const layout of Object.values(layouts(reportWords()))) {
      const frame = makeFrame(layout, LIGHT, {
        rangeHz: [7.3, 243],
        level: { min: 60, max: 115, step: 5 },
        title: 't',
      });
      const size = { width: layout.width, height: frame.height };
      const chart = echarts.init(null, null, { renderer: 'svg', ssr: true, ...size });
      chart.setOption({ ...frameOption(frame), series: [{ type: 'line', data: [[20, 80]] }] });
      for (const [hz, db] of [
        [7.3, 60],
        [31.5, 92.5],
        [243, 115],
      ]) {
        const [x, y] = chart.convertToPixel({ gridIndex: 0 }, [hz, db]);
        expect(x).toBeCloseTo(frame.x(hz), 6);
        expect(y).toBeCloseTo(frame.y(db), 6);
      }
      chart.dispose();
    }
  });

  it('carry all ticks that the trade reads: smaller, then in a second row, but none is skipped', () => {
    expect(ticksIn([5, 250])).toEqual(TICKS_HZ);
    expect(ticksIn([8.2, 150])).toEqual([10, 16, 20, 31.5, 40, 63, 80, 100]);
    const labels = (right: number, size: number) => tickLabels([5, 250], logScale([5, 250], 40, right), size);
    expect(labels(800, 14)).toEqual({ fontSize: 14, lowered: new Set() });
    expect(labels(400, 12).fontSize).toBeLessThan(12);
    const { lowered } = labels(260, 12);
    expect(lowered.size).toBeGreaterThan(0);
    // two neighbours never both go into the second row
    expect(TICKS_HZ.some((hz, k) => k > 0 && lowered.has(hz) && lowered.has(TICKS_HZ[k - 1]))).toBe(false);
  });

  it('choose level ranges on whole steps that hold the highest level and at most 60 dB', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -80, max: 150, noNaN: true }), { minLength: 1, maxLength: 30 }),
        (levels) => {
          const { min, max, step } = levelRange(levels);
          expect(max).toBeGreaterThanOrEqual(Math.max(...levels));
          expect(min).toBeLessThanOrEqual(Math.max(Math.min(...levels), Math.max(...levels) - 50));
          expect(Math.abs(min % step) + Math.abs(max % step)).toBe(0);
          expect([5, 10]).toContain(step);
          expect(max - min).toBeLessThanOrEqual(80);
        },
      ),
    );
    expect(levelRange([])).toEqual({ min: -5, max: 25, step: 5 });
  });
});

describe('labels', () => {
  it('moved apart keep their order, their distance and the plot', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -50, max: 450, noNaN: true }), { minLength: 1, maxLength: 25 }),
        fc.double({ min: 4, max: 16, noNaN: true }),
        (wanted, gap) => {
          const placed = stackLabels(wanted, gap, 0, 400);
          const order = wanted.map((_, k) => k).sort((a, b) => wanted[a] - wanted[b] || a - b);
          order.forEach((k, rank) => {
            expect(placed[k]).toBeGreaterThanOrEqual(-1e-6);
            expect(placed[k]).toBeLessThanOrEqual(400 + 1e-6);
            if (rank > 0) expect(placed[k] - placed[order[rank - 1]]).toBeGreaterThanOrEqual(gap - 1e-6);
          });
        },
      ),
    );
  });

  it('that do not collide stay where they want to be', () => {
    expect(stackLabels([10, 40, 90], 12, 0, 100)).toEqual([10, 40, 90]);
    expect(stackLabels([50, 50], 12, 0, 100)).toEqual([44, 56]);
  });
});
