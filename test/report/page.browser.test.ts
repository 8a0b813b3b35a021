import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildReport } from '../../lib/report/buildReport';
import { openPage, startBrowser } from './browser';
import { sampleInput } from './sampleSession';

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
    expect(found.skip).toBe('#verdict');
    expect(found.broken).toBe(0);
    expect(found.describedByNothing).toEqual([]);
  });

  it('keeps the order verdict, glance, figures, method, cautions, data', async () => {
    const sections = await page.evaluate(() => [...document.querySelectorAll('main > section')].map(({ id }) => id));
    expect(sections).toEqual(['verdict', 'glance', 'figures', 'method', 'cautions', 'data']);
  });

  it('links every sentence of the verdict to a figure or to the method', async () => {
    const sentences = await page.evaluate(() =>
      [...document.querySelectorAll('.verdict p')].map((p) => {
        const target = document.getElementById((p.querySelector('a')?.getAttribute('href') ?? '#').slice(1));
        return { text: p.textContent ?? '', tag: target?.tagName, key: p.querySelector('strong')?.textContent ?? '' };
      }),
    );
    expect(sentences).toHaveLength(report.verdict.length);
    sentences.forEach((sentence, k) => {
      expect(sentence.text.startsWith(report.verdict[k])).toBe(true);
      expect(['FIGURE', 'SECTION']).toContain(sentence.tag);
      expect(sentence.key).not.toBe('');
    });
  });

  it('gives every figure a caption, two drawings with a text alternative that holds numbers, and its numbers as a table', async () => {
    const figures = await page.evaluate(() =>
      [...document.querySelectorAll('figure')].map((figure) => ({
        id: figure.id,
        caption: figure.querySelector('figcaption')?.textContent ?? '',
        pictures: [...figure.querySelectorAll('svg[role=img]')].map(
          (svg) => `${svg.querySelector('title')?.textContent}|${svg.querySelector('desc')?.textContent}`,
        ),
        head: figure.querySelectorAll('details table thead th[scope=col]').length,
        rows: figure.querySelectorAll('details table tbody tr').length,
        rowHeads: figure.querySelectorAll('details table tbody th[scope=row]').length,
        tableCaption: figure.querySelector('details caption')?.textContent ?? '',
      })),
    );
    expect(figures.map(({ id }) => id)).toEqual([
      ...['fig-response-1', 'fig-response-2', 'fig-ladder-1', 'fig-ladder-2', 'fig-map-1', 'fig-map-2', 'fig-ceilings'],
      ...['fig-range-1', 'fig-range-2', 'fig-difference-1', 'fig-room'],
    ]);
    for (const figure of figures) {
      expect(figure.caption.length).toBeGreaterThan(30);
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
    ['a tablet', 768],
    ['a desk', 1280],
  ])('fits %s: nothing wider than the screen, one drawing shown, no lettering below 9 px', async (_, width) => {
    await page.setViewportSize({ width, height: 800 });
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
