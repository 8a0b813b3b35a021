import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { butterworth, nodeFile, response, until, useNodeRed } from './bench';

const { deploy } = useNodeRed();
const files = [nodeFile('report')];
let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'bassloom-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

const curve = (device: string) => response((hz) => 85 + butterworth(hz, 25), { device, setting: 'flat', driveDb: 0 });
const index = () => join(folder, 'index.html');
const page = () => (existsSync(index()) ? readFileSync(index(), 'utf8') : '');
const report = { type: 'bassloom-report', write: true, index: true, date: '2024-05-06' };

test('an empty folder gets a page that says so', async () => {
  await deploy(files, { ...report, folder });
  await until(() => page() !== '');
  expect(page()).toContain('No reports yet');
});

test('all units are there with date, setting and headlines, after a restart too, and no name becomes markup', async () => {
  const odd = '<script>alert(1)</script> & "x"';
  mkdirSync(join(folder, 'Of before'));
  writeFileSync(join(folder, 'Of before', 'report.html'), '');
  mkdirSync(join(folder, 'no report'));
  const first = await deploy(files, { ...report, folder });
  let headlines: { text: string }[] = [];
  for (const unit of ['Unit 10', 'Unit 9', odd]) {
    const { sent } = await first.give({ payload: [curve(unit)], topic: unit });
    headlines = sent.at(-1)?.report.headlines;
  }
  await deploy(files, { ...report, folder });
  for (const unit of ['Unit 9', 'Unit 10', 'Of before']) {
    expect(page()).toContain(`<a href="${encodeURIComponent(unit)}/report.html">${unit}</a>`);
  }
  expect(page().indexOf('>Unit 9<')).toBeLessThan(page().indexOf('>Unit 10<'));
  expect(page()).toContain('4 units');
  expect(page()).toContain('2024-05-06');
  expect(page()).toContain('flat');
  for (const { text } of headlines.slice(0, 3)) expect(page()).toContain(text.slice(0, 20));
  expect(page()).not.toContain('<script');
  expect(page()).not.toContain('no report<');
  expect(page()).toContain('prefers-color-scheme:dark');
  const before = page();
  const { mtimeMs } = statSync(index());
  await until(() => statSync(index()).mtimeMs > mtimeMs);
  expect(page()).toBe(before);
});

test('a report that is out of date is marked', async () => {
  const { give } = await deploy(files, { ...report, folder });
  await give({ payload: [curve('Unit')], topic: 'Unit' });
  await until(() => page().includes('>Unit<'));
  expect(page()).not.toContain('Out of date');
  rmSync(join(folder, 'Unit', 'curves.csv'));
  mkdirSync(join(folder, 'Unit', 'curves.csv', 'in the way'), { recursive: true });
  await give({ payload: [curve('Unit')], topic: 'Unit' });
  await until(() => page().includes('Out of date'));
  expect(readdirSync(folder).filter((name) => name.endsWith('.part'))).toEqual([]);
});

test('without the tick there is no such page', async () => {
  const { give } = await deploy(files, { ...report, folder, index: false });
  await give({ payload: [curve('Unit')], topic: 'Unit' });
  await deploy(files, { ...report, folder, index: false });
  expect(page()).toBe('');
});
