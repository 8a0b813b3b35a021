import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { butterworth, nodeFile, response, useNodeRed } from './bench';

const require = createRequire(import.meta.url);
const { safeName } = require('../../dist/nodes/report/safeName.js');
const { deploy } = useNodeRed();
const files = [nodeFile('report'), nodeFile('band-fit')];
const type = 'bassloom-report';
const curve = response((hz) => 85 + butterworth(hz, 25), { device: 'Unit A', setting: 'flat', driveDb: 0 });
let folder: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'bassloom-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

/** What a person sees in a folder. */
const seenIn = (path: string) =>
  readdirSync(path)
    .filter((name) => !name.startsWith('.'))
    .sort();

/** A message as the analyses leave it. */
async function analysed() {
  const { give } = await deploy(files, { type: 'bassloom-band-fit' });
  const [message] = (await give({ payload: [curve], topic: 'Unit A', other: 1 })).sent;
  return message as object;
}

test('page, findings and tables are written into a folder of the unit', async () => {
  const message = await analysed();
  const { give, lastStatus } = await deploy(files, { type, folder });
  const { sent, completed } = await give(message);
  expect(completed).toHaveLength(1);
  const { report, payload, findings, other } = sent[0];
  expect(payload).toEqual([curve]);
  expect(other).toBe(1);
  expect(report.folder).toBe(join(folder, 'Unit A'));
  expect(report.html).toContain('Unit A');
  expect(report.verdict.join(' ')).toMatch(/Hz/);
  const names = report.files.map((path: string) => basename(path));
  expect(names).toEqual(expect.arrayContaining(['report.html', 'findings.json', 'band-fit.csv']));
  expect(names.at(-1)).toBe('report.html');
  expect(seenIn(report.folder)).toEqual([...names].sort());
  expect(readFileSync(join(report.folder, 'report.html'), 'utf8')).toBe(report.html);
  expect(JSON.parse(readFileSync(join(report.folder, 'findings.json'), 'utf8'))).toEqual({
    schemaVersion: 2,
    ...findings,
  });
  expect(lastStatus()).toMatchObject({ fill: 'green' });
});

test('a summary and figures are written too where they are asked for, and go with a later report that has none', async () => {
  const message = await analysed();
  const { give } = await deploy(files, { type, folder, summary: true, pictures: true, credit: 'Lab A' });
  const { report } = (await give(message)).sent[0];
  const names = seenIn(report.folder);
  expect(names).toEqual(expect.arrayContaining(['summary.md', 'summary.txt']));
  expect(readFileSync(join(report.folder, 'summary.txt'), 'utf8')).toBe(report.text);
  expect(report.text).toMatch(/Lab A\n$/);
  expect(names.filter((name) => name.endsWith('.png')).sort()).toEqual(
    report.pictures.map(({ name }: { name: string }) => name).sort(),
  );
  expect(report.pictures.length).toBeGreaterThan(1);
  for (const { name, png } of report.pictures) expect(readFileSync(join(report.folder, name))).toEqual(png);
  const { give: again } = await deploy(files, { type, folder });
  await again(message);
  expect(seenIn(report.folder).filter((name) => /\.(png|md|txt)$/.test(name))).toEqual([]);
});

test('the same message gives the same files, byte by byte', async () => {
  const message = await analysed();
  const { give } = await deploy(files, { type, folder, dated: false });
  const [first] = (await give(message)).sent;
  const before = first.report.files.map((path: string) => readFileSync(path, 'utf8'));
  const [second] = (await give(message)).sent;
  expect(second.report.files.map((path: string) => readFileSync(path, 'utf8'))).toEqual(before);
});

test('folder, title and date can come from the message', async () => {
  const { give } = await deploy(files, { type, folder: '', title: '' });
  const { sent } = await give({ payload: [curve], folder, title: 'A title of our own', date: 'on a fine day' });
  expect(sent[0].report.html).toContain('A title of our own');
  expect(sent[0].report.html).toContain('on a fine day');
  expect(sent[0].report.folder).toBe(join(folder, 'Unit A'));
});

test("today's date is printed unless it is left out", async () => {
  const now = new Date();
  const isToday = (html: string) => {
    // a test that runs over midnight sees the day after
    const days = [now, new Date()].map((day) => [day.getFullYear(), day.getMonth() + 1, day.getDate()]);
    return days.some((day) => html.includes(day.map((part) => String(part).padStart(2, '0')).join('-')));
  };
  const page = async (config: object, message = {}) => {
    const { give } = await deploy(files, { type, write: false, ...config });
    return (await give({ payload: [curve], ...message })).sent[0].report.html;
  };
  expect(isToday(await page({ date: '' }))).toBe(true);
  expect(isToday(await page({ date: '', dated: true }))).toBe(true);
  expect(isToday(await page({ date: '', dated: false }))).toBe(false);
  expect(isToday(await page({ date: '17 May' }))).toBe(false);
});

test('headlines and what was concluded go out, and are concluded anew where more was found since', async () => {
  const message = await analysed();
  const { give } = await deploy(files, { type, write: false });
  const [{ report, findings }] = (await give(message)).sent;
  expect(report.headlines.length).toBeGreaterThan(0);
  for (const headline of report.headlines) {
    expect(headline).toMatchObject({ code: expect.any(String), values: expect.any(Object), text: expect.any(String) });
  }
  expect(findings.conclusions.headlines).toEqual(report.headlines);
  expect(report.verdict.slice(0, report.headlines.length)).toEqual(
    report.headlines.map(({ text }: { text: string }) => text),
  );
  const { give: refit } = await deploy(files, { type: 'bassloom-band-fit', heightDb: '12' });
  const [again] = (await refit({ payload: [curve], findings })).sent;
  expect(again.findings.bandFit).toHaveLength(2);
  expect(again.findings.conclusions).toBeUndefined();
});

test('nothing is written where that is not wanted', async () => {
  const { give } = await deploy(files, { type, write: false, folder });
  const { sent } = await give({ payload: [curve] });
  expect(sent[0].report).toMatchObject({ folder: null, files: [], html: expect.stringContaining('<!doctype html>') });
  expect(readdirSync(folder)).toEqual([]);
});

test('a folder that is missing from dialog and message is refused once', async () => {
  const { give } = await deploy(files, { type });
  const { sent, caught, completed } = await give({ payload: [curve] });
  expect([sent.length, caught.length, completed.length]).toEqual([0, 1, 0]);
  expect(caught[0].error).toMatchObject({ code: 'bad-setting', cause: { field: 'folder' } });
});

test('a folder that cannot be made is refused, what is no measurement too', async () => {
  const { give } = await deploy(files, { type, folder: join(folder, 'file', 'below') });
  writeFileSync(join(folder, 'file'), '');
  const { caught } = await give({ payload: [curve] });
  expect(caught[0].error.code).toMatch(/no-such-file|not-a-folder/);
  expect((await give({ payload: 'x' })).caught[0].error.code).toBe('not-measurements');
});

test('a level read at the ear becomes a permitted time', async () => {
  const { give } = await deploy(files, { type, write: false, levelDba: '94' });
  const [{ report, findings }] = (await give({ payload: [curve], topic: 'Unit A' })).sent;
  // 94 dB(A): one hour (NIOSH 98-126, table 1-1)
  expect(report.verdict.join(' ')).toMatch(/94\.0\sdB\(A\).*1\sh a day/);
  expect(findings?.exposure).toBeUndefined();
});

test('a unit called like a path stays inside the folder', async () => {
  const { give } = await deploy(files, { type, folder });
  for (const topic of ['../../escape', '..', '/etc/x', 'a/b\\c:d', 'con', 'x'.repeat(300)]) {
    const [{ report }] = (await give({ payload: [curve], topic })).sent;
    expect(dirname(report.folder)).toBe(folder);
    expect(existsSync(join(report.folder, 'report.html'))).toBe(true);
  }
});

test('names that file systems take are kept, others keep apart', () => {
  expect(safeName('Unit A, 12 inch')).toBe('Unit A, 12 inch');
  expect(safeName('a/b')).not.toBe(safeName('a:b'));
  expect(safeName('')).toMatch(/^unit-/);
});

test('tables of an earlier report go with it, what others laid into the folder stays', async () => {
  const message = await analysed();
  const { give } = await deploy(files, { type, folder });
  const [{ report }] = (await give(message)).sent;
  writeFileSync(join(report.folder, 'own.csv'), 'of somebody else');
  expect(seenIn(report.folder)).toContain('band-fit.csv');
  const [{ report: later }] = (await give({ payload: [curve], topic: 'Unit A' })).sent;
  const names = later.files.map((path: string) => basename(path));
  expect(names).not.toContain('band-fit.csv');
  expect(seenIn(report.folder)).toEqual([...names, 'own.csv'].sort());
});

test('a report that cannot be written anew is marked, its page kept under a name that says so, until one is written', async () => {
  const { give } = await deploy(files, { type, folder });
  const message = { payload: [curve], topic: 'Unit <A>' };
  const [{ report }] = (await give(message)).sent;
  const page = join(report.folder, 'report.html');
  const outdated = join(report.folder, 'report-outdated.html');
  // a folder where a table belongs: nothing can take its place
  rmSync(join(report.folder, 'curves.csv'));
  mkdirSync(join(report.folder, 'curves.csv', 'full'), { recursive: true });
  for (const _time of ['once', 'again']) {
    const { sent, caught } = await give({ ...message, payload: [{ ...curve, label: 'another' }] });
    expect([sent.length, caught.length]).toEqual([0, 1]);
    expect(caught[0].error.message).toContain('Unit <A>');
    expect(caught[0].error.message).toContain('curves.csv"');
    expect(readFileSync(outdated, 'utf8')).toBe(report.html);
    expect(readFileSync(page, 'utf8')).toContain('href="report-outdated.html"');
    expect(readFileSync(page, 'utf8')).toContain('Unit &#60;A&#62;: this report is out of date');
    expect(readdirSync(report.folder).filter((name) => name.endsWith('.part'))).toEqual([]);
  }
  rmSync(join(report.folder, 'curves.csv'), { recursive: true });
  const [{ report: later }] = (await give(message)).sent;
  expect(readFileSync(page, 'utf8')).toBe(later.html);
  expect(existsSync(outdated)).toBe(false);
});
