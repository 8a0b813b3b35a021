import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildReport } from '../../lib/report/buildReport';
import { openPage, startBrowser } from './browser';
import { countWords } from './countWords';
import { SAMPLE_DOUBT, sampleInput } from './sampleSession';

const report = buildReport(sampleInput());

let browser: Browser;
let page: Page;
let requests: string[];
let complaints: string[];
beforeAll(async () => {
  browser = await startBrowser();
  ({ page, requests, complaints } = await openPage(browser, report.html));
});
afterAll(() => browser.close());

describe('the page of a report', () => {
  it('asks the network for nothing, runs no script and raises no complaint', async () => {
    expect(requests.filter((url) => !url.startsWith('data:') && url !== 'about:blank')).toEqual([]);
    expect(complaints).toEqual([]);
    expect(await page.locator('script').count()).toBe(0);
    expect(report.html).not.toMatch(/\son\w+=/);
  });

  it('has a language, one h1, headings in order, a skip link, and no id twice', async () => {
    const found = await page.evaluate(() => {
      const ids = [...document.querySelectorAll('[id]')].map((element) => element.id);
      return {
        lang: document.documentElement.lang,
        levels: [...document.querySelectorAll('h1,h2,h3,h4')].map((heading) => Number(heading.tagName[1])),
        twice: ids.filter((id, k) => ids.indexOf(id) !== k),
        skip: document.querySelector('body > a')?.getAttribute('href'),
        broken: [...document.querySelectorAll('a[href^="#"]')].filter(
          (link) => !document.getElementById((link.getAttribute('href') ?? '').slice(1)),
        ).length,
        describedByNothing: [...document.querySelectorAll('[aria-labelledby],[aria-describedby]')].flatMap((element) =>
          ['aria-labelledby', 'aria-describedby']
            .flatMap((name) => (element.getAttribute(name) ?? '').split(' ').filter(Boolean))
            .filter((id) => !document.getElementById(id)?.textContent),
        ),
      };
    });
    expect(found.lang).toBe('en');
    expect(found.levels[0]).toBe(1);
    expect(found.levels.filter((level) => level === 1)).toHaveLength(1);
    found.levels.forEach((level, k) => {
      if (k > 0) expect(level - found.levels[k - 1]).toBeLessThanOrEqual(1);
    });
    expect(found.twice).toEqual([]);
    expect(found.skip).toBe('#findings');
    expect(found.broken).toBe(0);
    expect(found.describedByNothing).toEqual([]);
  });

  it('keeps the order: what was found, glance, figures, and all else folded', async () => {
    const found = await page.evaluate(() => ({
      sections: [...document.querySelectorAll('main > section')].map(({ id }) => id),
      folded: [...document.querySelectorAll('#more > details > div')].map(({ id }) => id),
      open: document.querySelectorAll('details[open]').length,
    }));
    expect(found.sections).toEqual(['findings', 'glance', 'figures', 'more']);
    expect(found.folded).toEqual(['verdict', 'doubts', 'method', 'terms', 'cautions', 'data']);
    expect(found.open).toBe(0);
  });

  it('has a name, what was measured, one picture and the headlines on the first screen, in at most 150 words', async () => {
    for (const [width, height] of [
      [1280, 800],
      [390, 844],
    ]) {
      await page.setViewportSize({ width, height });
      const first = await page.evaluate(() => {
        const part = document.querySelector('.first') as HTMLElement;
        return {
          pictures: [...part.querySelectorAll('svg')].filter((svg) => svg.getClientRects().length > 0).length,
          headlines: [...part.querySelectorAll('.headlines li')].map((li) => li.textContent ?? ''),
        };
      });
      const words = await countWords(page);
      expect(words.bottom).toBeLessThanOrEqual(height);
      expect(first.pictures).toBe(1);
      expect(words.first).toBeLessThanOrEqual(150);
      report.headlines.forEach(({ text }, k) => {
        expect(first.headlines[k].startsWith(text)).toBe(true);
      });
      expect(first.headlines).toHaveLength(report.headlines.length);
    }
  });

  it('leads from a doubted headline to why, which opens its fold', async () => {
    const marks = page.locator('.headlines .why');
    expect(await marks.count()).toBe(report.headlines.filter(({ doubt }) => doubt).length);
    const href = (await marks.first().getAttribute('href')) as string;
    await marks.first().click();
    const why = page.locator(href);
    expect(await why.isVisible()).toBe(true);
    expect(await why.textContent()).toContain(SAMPLE_DOUBT);
    await page.setContent(report.html, { waitUntil: 'load' });
  });

  it('says no sentence twice', async () => {
    const texts = await page.evaluate(() =>
      [...document.querySelectorAll('main p, main li, main figcaption, #terms dd')].map((one) => one.textContent ?? ''),
    );
    const sentences = texts.flatMap((text) => text.split(/(?<=[.!?])\s+/)).filter((text) => text.split(' ').length > 5);
    expect(sentences.filter((text, k) => sentences.indexOf(text) !== k)).toEqual([]);
  });

  it('gives every figure a caption, two drawings with a text alternative that holds numbers, and its numbers as a table', async () => {
    const figures = await page.evaluate(() => {
      const table = (within: Element | null) => ({
        head: within?.querySelectorAll('table thead th[scope=col]').length ?? 0,
        rows: within?.querySelectorAll('table tbody tr').length ?? 0,
        rowHeads: within?.querySelectorAll('table tbody th[scope=row]').length ?? 0,
        tableCaption: within?.querySelector('caption')?.textContent ?? '',
      });
      return [...document.querySelectorAll('figure')].map((figure) => ({
        id: figure.id,
        caption: figure.querySelector('figcaption')?.textContent ?? '',
        pictures: [...figure.querySelectorAll('svg[role=img]')].map(
          (svg) => `${svg.querySelector('title')?.textContent}|${svg.querySelector('desc')?.textContent}`,
        ),
        ...table(figure.querySelector('details') ?? document.querySelector('.first > details')),
      }));
    });
    expect(figures.map(({ id }) => id)).toEqual([
      ...['fig-response', 'fig-ladder-1', 'fig-ladder-2', 'fig-map-1', 'fig-map-2', 'fig-ceilings'],
      ...['fig-difference-1', 'fig-room', 'fig-response-1', 'fig-response-2', 'fig-range-1', 'fig-range-2'],
    ]);
    for (const figure of figures) {
      expect(figure.caption.length).toBeGreaterThan(20);
      // one sentence behind 'Figure 1.'
      expect(figure.caption.match(/[.!?](\s|$)/g)).toHaveLength(2);
      expect(figure.pictures).toHaveLength(2);
      for (const words of figure.pictures) expect(words).toMatch(/\S\|.*\d/);
      expect(figure.head).toBeGreaterThan(1);
      expect(figure.rows).toBeGreaterThan(1);
      expect(figure.rowHeads).toBe(figure.rows);
      expect(figure.tableCaption).not.toBe('');
    }
  });

  it.each([
    ['a phone', 360],
    ['a larger phone', 390],
    ['a tablet', 768],
    ['a desk', 1280],
  ])('fits %s: nothing wider than the screen, one drawing shown, no lettering below 9 px', async (_, width) => {
    await page.setViewportSize({ width, height: 800 });
    await page.evaluate(() => {
      for (const fold of document.querySelectorAll('details')) fold.open = true;
    });
    const found = await page.evaluate(() => {
      const shown = [...document.querySelectorAll('svg.chart')].filter((svg) => svg.getClientRects().length > 0);
      const sizes = shown.flatMap((svg) =>
        [...svg.querySelectorAll('text')].map((text) => {
          const scale = svg.getBoundingClientRect().width / (svg as SVGSVGElement).viewBox.baseVal.width;
          return Number.parseFloat(getComputedStyle(text).fontSize) * scale;
        }),
      );
      return {
        over: document.documentElement.scrollWidth - innerWidth,
        shown: shown.length,
        figures: document.querySelectorAll('figure').length,
        smallest: Math.min(...sizes),
      };
    });
    expect(found.over).toBeLessThanOrEqual(0);
    expect(found.shown).toBe(found.figures);
    expect(found.smallest).toBeGreaterThanOrEqual(8.5);
  });

  it('prints on A4 and Letter, light even for readers in the dark, no figure cut by a page break', async () => {
    await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
    const print = await page.evaluate(() => ({
      ink: getComputedStyle(document.body).color,
      broken: [...document.querySelectorAll('figure')].filter((f) => getComputedStyle(f).breakInside !== 'avoid')
        .length,
      wide: [...document.querySelectorAll('svg.wide')].every((svg) => svg.getClientRects().length > 0),
    }));
    expect(print).toEqual({ ink: 'rgb(27, 30, 36)', broken: 0, wide: true });
    for (const format of ['A4', 'Letter']) {
      const pdf = await page.pdf({ format });
      expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
    }
  });
});
