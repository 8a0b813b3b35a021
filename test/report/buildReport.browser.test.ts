import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import Papa from 'papaparse';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Findings } from '../../lib/model/findings';
import { makeCurve } from '../../lib/model/makeCurve';
import { buildReport, type ReportInput } from '../../lib/report/buildReport';
import { said } from '../said';
import { openPage, startBrowser } from './browser';
import { sampleInput } from './sampleSession';

let browser: Browser;
beforeAll(async () => {
  browser = await startBrowser();
});
afterAll(() => browser.close());

/** All text a reader may meet, text alternatives included. */
async function wordsOf(html: string): Promise<string> {
  const { page, requests, complaints } = await openPage(browser, html);
  const words = await page.evaluate(() => document.body.textContent ?? '');
  expect(requests.filter((url) => !url.startsWith('data:') && url !== 'about:blank')).toEqual([]);
  expect(complaints).toEqual([]);
  return words;
}

const only = (...keys: (keyof Findings)[]) => {
  const input = sampleInput({ settings: ['deep'] });
  const findings = Object.fromEntries(keys.map((key) => [key, input.findings[key]]));
  return { ...input, findings };
};

const oneRung = sampleInput({ rungs: 1, settings: ['deep'] });
const CASES: [string, ReportInput][] = [
  ['nothing at all', { topic: '', measurements: [], findings: {} }],
  ['curves without findings', only()],
  ['findings without curves', { ...sampleInput(), measurements: [] }],
  ['band fits alone', only('bandFit')],
  ['a ladder alone', only('ladder')],
  ['a room alone', only('roomPrediction')],
  ['features without a room', only('roomFeatures')],
  ['a difference alone', only('settingDifference')],
  ['one rung', oneRung],
  ['one rung, relative', sampleInput({ rungs: 1, settings: ['deep'], scale: 'relative' })],
  ['two rungs', sampleInput({ rungs: 2 })],
  ['60 curves', sampleInput({ rungs: 20, settings: ['a', 'b', 'c'] })],
  [
    'very long labels',
    sampleInput({ device: 'unit '.repeat(80), settings: ['position'.repeat(40), 'other'.repeat(40)] }),
  ],
  ['names in other scripts', sampleInput({ device: 'サブウーファー 12', settings: ['עמוק', 'θολό', 'ضيق'] })],
  ['two points a curve', sampleInput({ points: 2 })],
  [
    'curves with nothing known of them',
    {
      topic: 'x',
      measurements: [
        makeCurve({ frequencyHz: [50], levelDb: [70] }),
        makeCurve({ frequencyHz: [20, 30], levelDb: [70, 71] }),
      ],
      findings: {},
    },
  ],
  [
    'levels without end and empty ladders',
    (() => {
      const input = sampleInput({ settings: ['deep'] });
      const [ladder] = input.findings.ladder!;
      ladder.levelDb = ladder.levelDb.map((row) => row.map(() => null));
      ladder.compressionDb = ladder.levelDb;
      ladder.snrDb = ladder.levelDb;
      ladder.trusted = ladder.trusted.map((row) => row.map(() => false));
      ladder.ceiling.levelDb = ladder.ceiling.levelDb.map(() => null);
      ladder.step = { commandedDb: 3, measuredDb: Number.NaN, uncertaintyDb: Number.POSITIVE_INFINITY, differs: false };
      ladder.onset = [];
      input.findings.settingDifference = sampleInput().findings.settingDifference!.map((one) => ({
        ...one,
        hingeHz: null,
        asymptoteDb: null,
        slopeDbPerOctave: null,
        at: [],
      }));
      return input;
    })(),
  ],
];

describe('a report', () => {
  it.each(CASES)('is whole and says nothing senseless: %s', async (_, input) => {
    const { html, verdict, findingsJson, tables } = buildReport(input);
    expect(verdict.length).toBeGreaterThan(0);
    const words = await wordsOf(html);
    for (const text of [words, ...verdict, ...tables.map(({ csv }) => csv)]) {
      expect(text).not.toMatch(/\bNaN\b|\bundefined\b|\bnull\b|\bInfinity\b|\[object/);
    }
    const { schemaVersion, conclusions: _theirs, ...own } = JSON.parse(findingsJson);
    const { conclusions: _own, ...given } = JSON.parse(JSON.stringify(input.findings));
    expect(schemaVersion).toBe(2);
    expect(own).toEqual(given);
  });

  it('is the same bytes for the same input, and tells the time only when given it', () => {
    const [a, b] = [buildReport(sampleInput()), buildReport(sampleInput())];
    expect(a).toEqual(b);
    const dated = buildReport({ ...sampleInput(), generatedAt: '2031-05-04' });
    expect(dated.html).toContain('<time>2031-05-04</time>');
    expect(dated.html.replace('<time>2031-05-04</time> <span aria-hidden="true">·</span> ', '')).toBe(a.html);
  });

  it('leaves what it was given alone', () => {
    const input = sampleInput();
    const before = structuredClone(input);
    buildReport(input);
    expect(input).toEqual(before);
  });

  it('reads out procedure and room with their units', async () => {
    const words = await wordsOf(
      buildReport({
        ...sampleInput(),
        procedure: { name: 'fixed spot', distanceM: 2, stepDb: 3, referenceBandHz: [40, 80], temperatureC: 21.5 },
        room: { name: 'big room', lengthM: 6.25, source: [0.5, 1, 0.3] },
      }).html,
    );
    expect(words).toContain('Distance2\u00a0m');
    expect(words).toContain('Reference band40–80\u00a0Hz');
    expect(words).toContain('Temperature21.5\u00a0°C');
    expect(words).toContain('Room: length6.25\u00a0m');
    expect(words).toContain('Room: source0.5\u00a0m, 1\u00a0m, 0.3\u00a0m');
  });

  it('takes the name of the procedure where no run names one, and one distance where the runs are finer', async () => {
    const input = sampleInput({ settings: ['deep'] });
    const measurements = input.measurements.map((one) => ({
      ...one,
      about: { ...one.about, procedure: undefined, distanceM: 3.37 },
    }));
    const told = async (distanceM: number) =>
      wordsOf(
        buildReport({
          ...input,
          measurements,
          procedure: { name: 'other spot', distanceM, position: 'corner', referenceLowHz: 40, referenceHighHz: 80 },
        }).html,
      );
    const words = await told(3.4);
    expect(words).toContain('Procedureother spot');
    expect(words.match(/Distance[\d.]+/g)).toEqual(['Distance3.37']);
    expect(words).toContain('Positionfront wall; corner by the procedure');
    expect(words).toContain('Reference band40–80\u00a0Hz');
    expect(await told(3)).toContain('Distance3.37\u00a0m; 3\u00a0m by the procedure');
  });

  it('names every step of processing once, with what it was done with and to how many curves', async () => {
    const words = await wordsOf(buildReport(sampleInput()).html);
    expect(words.match(/microphone correction/g)).toHaveLength(1);
    expect(words).toContain('microphone correctioncorrection: microphone.txt; id: a1b218 of 18');
    expect(words).toContain('name: 18 different values');
    expect(words).toContain('applied to all responses');
  });

  it('tells at a glance where each end of the response has fallen, past which dips, and of which end that is not known', async () => {
    const input = sampleInput({ settings: ['deep'] });
    for (const fit of input.findings.bandFit!) {
      fit.points[0] = { ...fit.points[0], lowDipsHz: [36.2], highDipsHz: [71] };
      fit.points[2] = { downDb: 10, lowHz: null, highHz: 181, lowDipsHz: [36.2] };
    }
    const words = await wordsOf(buildReport(input).html);
    expect(words).toContain('3\u00a0dB down at17.6 and 152\u00a0Hz, past dips at 36.2, 71\u00a0Hz');
    expect(words).toContain('6\u00a0dB down at15.4\u00a0Hz, not at the top');
    expect(words).toContain('10\u00a0dB down at181\u00a0Hz, not at the bottom');
    expect(words).toMatch(/Loudest level\s*20\u00a0Hz/);
    for (const hz of [25, 31.5, 40, 50, 63])
      expect(words).toMatch(new RegExp(`${hz}\u00a0Hz(at least )?\\d+\\.\\d\u00a0dB`));
  });

  it('thins curves of more points than a page can carry, says so, and leaves them whole in their file', async () => {
    const input = sampleInput({ rungs: 2, points: 60_000 });
    const report = buildReport({ ...input, findings: {} });
    expect(report.tables.map(({ name }) => name)).toEqual(['runs.csv', 'curves.csv']);
    expect(report.tables[1].csv.split('\r\n').length).toBeGreaterThan(4 * 60_000);
    expect(report.html.length).toBeLessThan(1e6);
    expect(await wordsOf(report.html)).toContain('thinned to 24 points an octave');
  });

  it('does not load the chart library before it draws', () => {
    const folder = join(import.meta.dirname, '../../lib/report');
    const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.ts'));
    expect(files.length).toBeGreaterThan(30);
    const loading = files.filter((name) =>
      /^(import|export) (?!type).*from 'echarts/m.test(readFileSync(join(folder, name), 'utf8')),
    );
    expect(loading).toEqual([]);
  });
});

describe('text that came from files', () => {
  const evil = `<script>window.pwned=1</script><img src=x onerror="window.pwned=2">"'&amp;</title></style></svg>]]>\u202e\u0000\ud800 =1+1`;
  const formula = '=HYPERLINK("http://example.invalid","x")';
  const input = sampleInput({ device: evil, settings: [evil, formula] });
  input.findings.notes = [said(evil)];
  input.findings.bandFit![0].caveats = [said(evil)];
  input.findings.rollOff![0].alignment = evil;
  input.findings.roomFeatures![0].cause.detail = evil;
  input.findings.conclusions!.headlines[0].text = evil;
  input.findings.conclusions!.headlines[1].doubt = evil;
  input.findings.roomPrediction!.room = evil;
  input.measurements = input.measurements.map((one) => ({
    ...one,
    about: { ...one.about, procedure: evil, position: evil, takenAt: evil },
    steps: [{ did: evil as `own: ${string}`, with: { [evil]: evil } }],
  }));
  const report = buildReport({
    ...input,
    title: evil,
    generatedAt: evil,
    procedure: { [evil]: evil, note: evil },
    room: { name: evil },
  });

  it('is shown as text, never as tags, styles or scripts', async () => {
    const { page, requests, complaints } = await openPage(browser, report.html);
    const found = await page.evaluate(() => ({
      pwned: 'pwned' in window,
      scripts: document.querySelectorAll('script,img,iframe,object').length,
      styles: document.querySelectorAll('style').length,
      mains: document.querySelectorAll('body > main').length,
      handlers: [...document.querySelectorAll('*')].filter((one) =>
        one.getAttributeNames().some((name) => name.startsWith('on')),
      ).length,
      heading: document.querySelector('h1')?.textContent ?? '',
      inFigure: document.querySelector('#fig-ladder-1 svg title')?.textContent ?? '',
    }));
    expect(found).toMatchObject({ pwned: false, scripts: 0, styles: 1, mains: 1, handlers: 0 });
    expect(found.heading).toContain('<script>window.pwned=1</script>');
    expect(found.inFigure).toContain('<script>');
    expect(requests.filter((url) => !url.startsWith('data:') && url !== 'about:blank')).toEqual([]);
    expect(complaints).toEqual([]);
  });

  it('cannot turn round the text beside it', () => {
    for (const sentence of report.verdict.filter((one) => one.includes('\u202e'))) {
      const outside = sentence.replace(/\u2068[^\u2069]*\u2069/g, '');
      expect(outside).not.toContain('\u202e');
    }
    expect(report.verdict.join('')).toContain('\u2068');
  });

  it('is harmless in tables, and numbers stay numbers', () => {
    expect(report.tables.length).toBeGreaterThan(10);
    for (const { name, csv } of report.tables) {
      const { data, errors } = Papa.parse<string[]>(csv.trimEnd());
      expect(errors, name).toEqual([]);
      const [head, ...rows] = data;
      for (const row of rows) {
        expect(row, name).toHaveLength(head.length);
        for (const cell of row) if (/^[=+@\t\r-]/.test(cell)) expect(Number(cell), `${name}: ${cell}`).not.toBeNaN();
      }
    }
    const ladder = Papa.parse<Record<string, string>>(
      report.tables.find(({ name }) => name === 'compression-ladder.csv')!.csv,
      {
        header: true,
        dynamicTyping: true,
        skipEmptyLines: true,
      },
    ).data as Record<string, unknown>[];
    const [first] = input.findings.ladder!;
    expect(ladder).toHaveLength(2 * first.rungs.length * first.bandsHz.length);
    expect(ladder[0]['drive (dB)']).toBe(first.rungs[0].driveDb);
    expect(ladder[3]['level (dB)']).toBe(first.levelDb[0][3]);
    expect(ladder.at(-1)!.setting).toBe(`'${formula}`);
  });

  it('rides along in data links that no tag can break out of', async () => {
    const { page } = await openPage(browser, report.html);
    const links = await page.evaluate(() =>
      [...document.querySelectorAll('#data a')].map((a) => [a.getAttribute('download'), a.getAttribute('href')]),
    );
    const carried = Object.fromEntries(
      links.map(([name, href]) => [name, Buffer.from(String(href).split('base64,')[1], 'base64').toString('utf8')]),
    );
    expect(carried['findings.json']).toBe(report.findingsJson);
    for (const { name, csv } of report.tables) expect(carried[name]).toBe(Buffer.from(csv, 'utf8').toString('utf8'));
  });
});
