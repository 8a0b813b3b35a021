import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { thirdOctaveCentres } from '../../lib/model/octaves';
import { buildReport, type ReportInput } from '../../lib/report/buildReport';
import { said } from '../said';
import { openPage, startBrowser } from './browser';
import { lettersAmiss } from './lettersAmiss';
import { sampleExposure, sampleSound } from './sampleSound';

let browser: Browser;
beforeAll(async () => {
  browser = await startBrowser();
});
afterAll(() => browser.close());

const LONG = 'a rather long thing to be told of a finding, with <tags> & signs, '.repeat(4);
const full = sampleSound({ settings: ['deep'], points: 60 });

const only = (...keys: (keyof ReportInput['findings'])[]): ReportInput => ({
  topic: 'Unit',
  measurements: [],
  findings: Object.fromEntries(keys.map((key) => [key, full.findings[key]])),
});

/** Ten rungs by twenty bands, the most that is usual. */
function tenByTwenty(): ReportInput {
  const input = sampleSound({ settings: ['deep'], rungs: 10, points: 60 });
  const [distortion] = input.findings.distortion!;
  const bandsHz = thirdOctaveCentres(4.4, 450);
  expect(bandsHz).toHaveLength(20);
  const wide = <T>(row: T[]): T[] => bandsHz.map((_, band) => row[band % row.length]);
  Object.assign(distortion, {
    bandsHz,
    thdPercent: distortion.thdPercent.map(wide),
    noisePercent: distortion.noisePercent.map(wide),
    trusted: distortion.trusted.map(wide),
    levelDb: distortion.levelDb.map(wide),
    harmonics: distortion.harmonics.map((one) => ({ ...one, levelDb: one.levelDb.map(wide) })),
    passes: distortion.passes.map((pass) => ({
      ...pass,
      driveDb: wide(pass.driveDb),
      levelDb: wide(pass.levelDb),
      reached: wide(pass.reached),
    })),
  });
  return input;
}

/** Everything that can be said against everything. */
function muchAmiss(): ReportInput {
  const input = sampleSound({ device: LONG, settings: [LONG], points: 60 });
  const { distortion, maximumOutput, captureQuality, exposure } = input.findings;
  const many = Array.from({ length: 40 }, (_, k) => said(`${LONG}${k}`));
  for (const one of [...distortion!, ...maximumOutput!, exposure!]) one.caveats = many;
  for (const one of captureQuality!)
    Object.assign(one, { verdict: 'bad', warnings: many, label: `${LONG}${one.label}` });
  maximumOutput![0].averages[0].name = LONG;
  input.measurements = input.measurements.map((one) => ({ ...one, label: `${LONG}${one.label}` }));
  return input;
}

/** Nothing is known of anything. */
function nothingKnown(): ReportInput {
  const input = sampleSound({ settings: ['deep'], points: 60 });
  const [distortion] = input.findings.distortion!;
  const none = distortion.levelDb.map((row) => row.map(() => null));
  Object.assign(distortion, { thdPercent: none, noisePercent: none, levelDb: none });
  distortion.trusted = none.map((row) => row.map(() => false));
  distortion.harmonics = distortion.harmonics.map(({ order }) => ({ order, levelDb: none }));
  distortion.passes = [{ percent: 3, driveDb: none[0], levelDb: none[0], reached: distortion.trusted[0] }];
  const [output] = input.findings.maximumOutput!;
  output.measuredAtM = null;
  for (const centre of output.centres) {
    Object.assign(centre, { driveDb: null, peakAt1mDb: null, rmsAt2mDb: null, stoppedBy: 'noise', trusted: false });
  }
  output.averages = output.averages.map((one) => ({ ...one, peakAt1mDb: null, rmsAt2mDb: null }));
  for (const one of input.findings.captureQuality!) {
    one.snrDb = { frequencyHz: [], db: [] };
    Object.assign(one, { clockPpm: null, clockUncertaintyPpm: null, humHz: [], peakDbfs: Number.NEGATIVE_INFINITY });
  }
  input.findings.exposure = { ...sampleExposure(), levelDba: null, levelDbc: null, permittedSeconds: null };
  return input;
}

const CASES: [string, ReportInput][] = [
  ['two settings', sampleSound({ rungs: 6, points: 60 })],
  ['one rung, relative', sampleSound({ rungs: 1, settings: ['deep'], scale: 'relative', points: 60 })],
  ['ten rungs by twenty bands', tenByTwenty()],
  ['maximum output alone', only('maximumOutput')],
  ['capture quality alone', only('captureQuality')],
  ['distortion without a ladder', only('distortion')],
  ['exposure alone', only('exposure')],
  ['much amiss', muchAmiss()],
  ['nothing known', nothingKnown()],
  [
    'recordings alone',
    { topic: 'Unit', measurements: full.measurements.filter(({ kind }) => kind === 'recording'), findings: {} },
  ],
];

describe('a report out of recordings', () => {
  it.each(CASES)('is whole, fits a phone and a desk, and no lettering is cut or covered: %s', async (_, input) => {
    const before = structuredClone(input);
    const { html, verdict, tables } = buildReport(input);
    expect(input).toEqual(before);
    expect(verdict.length).toBeGreaterThan(0);
    const { page, requests, complaints } = await openPage(browser, html, { width: 390, height: 800 });
    const words = await page.evaluate(() => document.body.textContent ?? '');
    for (const text of [words, ...verdict, ...tables.map(({ csv }) => csv)]) {
      expect(text).not.toMatch(/\bNaN\b|\bundefined\b|\bnull\b|\bInfinity\b|\[object/);
    }
    expect(requests.filter((url) => !url.startsWith('data:') && url !== 'about:blank')).toEqual([]);
    expect(complaints).toEqual([]);
    for (const width of [360, 1280]) {
      await page.setViewportSize({ width, height: 800 });
      const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      expect(over, `${width} px`).toBeLessThanOrEqual(0);
      expect(await page.evaluate(lettersAmiss), `${width} px`).toEqual([]);
    }
    const broken = await page.evaluate(() => {
      const ids = [...document.querySelectorAll('[id]')].map(({ id }) => id);
      const links = [...document.querySelectorAll('a[href^="#"]')].map((a) => (a.getAttribute('href') ?? '').slice(1));
      const tags = [...document.querySelectorAll('tags,script')].map(({ tagName }) => tagName);
      return [...tags, ...links.filter((id) => !ids.includes(id)), ...ids.filter((id, k) => ids.indexOf(id) !== k)];
    });
    expect(broken).toEqual([]);
  });

  it('gives every figure a text alternative with numbers, and puts compression and distortion together', async () => {
    const { page } = await openPage(browser, buildReport(full).html);
    const figures = await page.evaluate(() =>
      [...document.querySelectorAll('figure')].map((figure) => ({
        id: figure.id,
        texts: [...figure.querySelectorAll('svg desc')].map((desc) => desc.textContent ?? ''),
        rows: (figure.querySelector('details') ?? document.querySelector('.first > details'))?.querySelectorAll(
          'tbody tr',
        ).length,
      })),
    );
    const ids = figures.map(({ id }) => id);
    const at = ids.indexOf('fig-map-1');
    expect(ids.slice(at, at + 2)).toEqual(['fig-map-1', 'fig-distortion-1']);
    for (const { id, texts, rows } of figures) {
      expect(texts, id).toHaveLength(2);
      for (const text of texts) expect(text, id).toMatch(/\d/);
      expect(rows, id).toBeGreaterThan(1);
    }
  });

  it('draws the columns of both maps at the same places', async () => {
    const { page } = await openPage(browser, buildReport(full).html);
    const columns = await page.evaluate(() =>
      ['fig-map-1', 'fig-distortion-1'].map((id) => {
        const texts = [...document.querySelectorAll(`#${id} svg.wide text`)];
        const tick = texts.find((text) => text.textContent === '63') as SVGTextElement;
        return Math.round(tick.getBoundingClientRect().left);
      }),
    );
    expect(columns[0]).toBe(columns[1]);
  });
});
