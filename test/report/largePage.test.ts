import { expect, test } from 'vitest';
import { buildLadder, buildReport, fitBand, makeCurve } from '../../lib';

const frequencyHz = Array.from({ length: 600 }, (_, i) => 10 * 2 ** (i / 120));
const run = (setting: string, driveDb: number) =>
  makeCurve({
    frequencyHz,
    levelDb: frequencyHz.map((hz) => 80 + driveDb - 10 * Math.log10(1 + (25 / hz) ** 4) + 0.1 * Math.sin(hz + driveDb)),
    label: `Unit_${setting}_${driveDb}`,
    about: { device: 'Unit', setting, driveDb },
  });
const report = (settings: number, drives: number) => {
  const groups = Array.from({ length: settings }, (_, s) =>
    Array.from({ length: drives }, (_, k) => run(`set ${s}`, k / 10)),
  );
  const measurements = groups.flat();
  const findings = {
    ladder: drives > 1 ? groups.map((group) => buildLadder(group)) : [],
    bandFit: groups.map(([first]) => fitBand(first)),
  };
  return { measurements, ...buildReport({ topic: 'Unit', measurements, findings }) };
};

test('a page of very many runs stays under 5 MB, its tables beside it hold all of them', { timeout: 300_000 }, () => {
  const { html, tables, measurements } = report(1, 150);
  expect(html.length).toBeLessThan(5e6);
  expect(html).toContain('of 150 runs the figures show 60');
  const rows = (name: string) =>
    (tables.find((table) => table.name === name)?.csv ?? '').trim().split('\r\n').length - 1;
  expect(rows('runs.csv')).toBe(150);
  expect(rows('curves.csv')).toBe(measurements.length * frequencyHz.length);
  expect(JSON.parse(report(1, 2).findingsJson).notes).toBeUndefined();
});
