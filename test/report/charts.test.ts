import * as echarts from 'echarts';
import fc from 'fast-check';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildReport } from '../../lib/report/buildReport';
import { frameOption, makeFrame } from '../../lib/report/charts/frame';
import { frequencyTicks, logScale, TICKS_HZ } from '../../lib/report/charts/frequencyAxis';
import { NARROW, textWidth, WIDE } from '../../lib/report/charts/layout';
import { levelRange } from '../../lib/report/charts/levelRange';
import { LIGHT } from '../../lib/report/charts/palette';
import { stackLabels } from '../../lib/report/charts/stackLabels';
import { openPage, startBrowser } from './browser';
import { sampleInput } from './sampleSession';

describe('axes', () => {
  it('lie exactly where marks drawn by hand expect them', () => {
    for (const layout of [WIDE, NARROW]) {
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

  it('carry the ticks that the trade reads, all of them where there is room and octaves first where not', () => {
    const wide = frequencyTicks([5, 250], logScale([5, 250], 40, 800), 14);
    expect(wide).toEqual(TICKS_HZ);
    const narrow = frequencyTicks([5, 250], logScale([5, 250], 30, 250), 11);
    expect(narrow).toEqual(expect.arrayContaining([5, 10, 20, 40, 80, 160]));
    for (const ticks of [wide, narrow]) for (const hz of ticks) expect(TICKS_HZ).toContain(hz);
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

describe('drawn in a browser', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await startBrowser();
  });
  afterAll(() => browser.close());

  it.each([
    ['two settings on a desk', 1280, {}],
    ['two settings on a phone', 390, {}],
    ['a ladder of 30 rungs on a phone', 390, { rungs: 30, settings: ['one'] }],
    [
      'six settings with long names on a desk',
      1280,
      { settings: [1, 2, 3, 4, 5, 6].map((k) => `a rather long name of a setting, number ${k}`) },
    ],
  ])('no lettering covers another: %s', async (_, width, options) => {
    const { html } = buildReport(sampleInput(options));
    const { page } = await openPage(browser, html, { viewport: { width: width as number, height: 900 } });
    const overlaps = await page.evaluate(() =>
      [...document.querySelectorAll('svg.chart')]
        .filter((svg) => svg.getClientRects().length > 0)
        .flatMap((svg) => {
          const frame = svg.getBoundingClientRect();
          const boxes = [...svg.querySelectorAll('text')].map((text) => ({
            text: text.textContent,
            box: text.getBoundingClientRect(),
          }));
          const cut = boxes
            .filter(
              ({ box }) => box.left < frame.left - 2 || box.right > frame.right + 2 || box.bottom > frame.bottom + 2,
            )
            .map(({ text }) => `${svg.id} cut: ${text}`);
          const covered = boxes.flatMap((a, i) =>
            boxes.slice(i + 1).flatMap((b) => {
              const across = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
              // A line box is taller than its letters: a fifth of it is air.
              const down = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top) - 0.2 * a.box.height;
              return across > 1 && down > 1
                ? [`${svg.querySelector('title')?.textContent}: ${a.text} / ${b.text}`]
                : [];
            }),
          );
          return [...cut, ...covered];
        }),
    );
    expect(overlaps).toEqual([]);
    await page.context().close();
  });

  it('texts are about as wide as reckoned without a screen', async () => {
    const { page } = await openPage(browser, '<canvas></canvas>');
    for (const text of ['Sound pressure level in dB re 20 µPa', '18.2–104 Hz', '+27 dB', 'Within 5 dB']) {
      const measured = await page.evaluate((words) => {
        const context = (document.querySelector('canvas') as HTMLCanvasElement).getContext(
          '2d',
        ) as CanvasRenderingContext2D;
        context.font = '20px system-ui, sans-serif';
        return context.measureText(words).width;
      }, text);
      expect(textWidth(text, 20) / measured).toBeGreaterThan(0.85);
      expect(textWidth(text, 20) / measured).toBeLessThan(1.3);
    }
    await page.context().close();
  });
});
