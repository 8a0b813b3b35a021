import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildReport } from '../../lib/report/buildReport';
import { textWidth } from '../../lib/report/charts/layout';
import { openPage, startBrowser } from './browser';
import { lettersAmiss } from './lettersAmiss';
import { sampleInput } from './sampleSession';

describe('lettering drawn in a browser', () => {
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
    const { html } = buildReport(sampleInput({ points: 80, ...options }));
    const { page } = await openPage(browser, html, { width: width as number, height: 900 });
    const overlaps = await page.evaluate(lettersAmiss);
    expect(overlaps).toEqual([]);
  });

  it('texts are about as wide as reckoned without a screen', async () => {
    const { page } = await openPage(browser, '<canvas></canvas>');
    for (const text of ['Level in dB re 20 µPa', '18.2–104 Hz', '+27 dB', 'Within 5 dB']) {
      const measured = await page.evaluate((words) => {
        const context = (document.querySelector('canvas') as HTMLCanvasElement).getContext(
          '2d',
        ) as CanvasRenderingContext2D;
        context.font = '20px system-ui, sans-serif';
        return context.measureText(words).width;
      }, text);
      expect(textWidth(text, 20) / measured).toBeGreaterThan(0.97);
      expect(textWidth(text, 20) / measured).toBeLessThan(1.3);
    }
  });
});
