import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { buildLadder, fitBand, makeCurve } from '../../lib';
import { curveSchema, findingsSchema } from '../../lib/model/schemas';

const hz = Array.from({ length: 200 }, (_, i) => 8 * 2 ** (i / 36));
const run = (driveDb: number) =>
  makeCurve({
    frequencyHz: hz,
    levelDb: hz.map((f) => 80 + driveDb - 10 * Math.log10(1 + (25 / f) ** 4)),
    about: { driveDb },
  });
const published = (name: string) =>
  JSON.parse(readFileSync(join(resolve(import.meta.dirname, '../../dist/schemas'), `${name}.schema.json`), 'utf8'));

describe('the schemas', () => {
  it('take what the library makes', () => {
    const rungs = [0, 3, 6].map(run);
    const findings = { bandFit: [fitBand(rungs[0], { rangeHz: [20, 100] })], ladder: [buildLadder(rungs)] };
    expect(curveSchema.parse(rungs[0])).toEqual(rungs[0]);
    expect(findingsSchema.parse(findings)).toEqual(findings);
  });

  it.each([
    ['a level that is no number', { levelDb: [null] }],
    ['a field that nobody knows', { colour: 'red' }],
    ['a role that there is not', { role: 'other' }],
    ['a step with settings that are not its own', { steps: [{ did: 'smooth', with: { width: 6 } }] }],
  ])('refuse %s', (_what, change) => {
    expect(curveSchema.safeParse({ ...run(0), ...change }).success).toBe(false);
  });

  it("let the steps of flows of one's own pass", () => {
    const steps = [{ did: 'shift by hand', with: { db: 3 } }, { did: 'something' }];
    expect(curveSchema.parse({ ...run(0), steps }).steps).toEqual(steps);
  });

  it('are published as JSON Schema with units in words', () => {
    const curve = published('curve');
    expect(curve.$schema).toMatch(/json-schema.org/);
    expect(curve.required).toEqual(expect.arrayContaining(['kind', 'frequencyHz', 'levelDb', 'scale']));
    expect(curve.properties.frequencyHz.description).toMatch(/Hz/);
    expect(Object.keys(published('findings').properties)).toEqual(
      expect.arrayContaining(['bandFit', 'ladder', 'roomFeatures']),
    );
  });
});
