import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { demoRig } from '../../lib/rig/demoRig';
import { sessionFiles } from '../../lib/rig/sessionFiles';
import { sessionTruth } from '../../lib/rig/sessionTruth';
import kept from '../reference/demoTruth.json';

const folder = join(__dirname, '../../flows/demo/session');
const files = sessionFiles(demoRig());

describe('the demo session', () => {
  it('is in the package exactly as its bench gives it (scripts/make-demo.mjs)', () => {
    expect(readdirSync(folder).sort()).toEqual(files.map((file) => file.name).sort());
    for (const { name, text } of files) expect(readFileSync(join(folder, name), 'utf8')).toBe(text);
  });

  it('has ten rungs in each of two settings, a muted run and the microphone file', () => {
    expect(files.length).toBe(22);
    for (const setting of ['shelf-flat', 'shelf-lifted']) {
      expect(files.filter(({ name }) => name.startsWith(`Marrowby-12_${setting}_step-`)).length).toBe(10);
    }
    expect(files.map((file) => file.name).slice(-2)).toEqual(['noise.txt', 'microphone-correction.txt']);
  });

  it('stands beside the truth that is kept for comparison', () => {
    const rounded = JSON.stringify(sessionTruth(demoRig()), (_, v) =>
      typeof v === 'number' ? Number(v.toFixed(6)) : v,
    );
    expect(JSON.parse(rounded)).toEqual(kept.truth);
    expect(kept.rig).toEqual(demoRig());
  });

  it('shows what a session can teach: noise at the bottom, a guard, a gradual end, dips', () => {
    const { bands, dips } = sessionTruth(demoRig());
    const [flat] = bands;
    const at = (hz: number) => flat.bandsHz.findIndex((centre) => Math.abs(Math.log2(centre / hz)) < 0.1);
    const loss = (hz: number, rung: number) => flat.linearDb[rung][at(hz)] - flat.levelDb[rung][at(hz)];
    expect(flat.snrDb[0][at(8)]).toBeLessThan(10);
    expect(flat.snrDb[0][at(50)]).toBeGreaterThan(20);
    expect(loss(16, 9) - loss(16, 8)).toBeGreaterThan(2.5); // a wall
    expect(loss(50, 9) - loss(50, 8)).toBeGreaterThan(0.5); // gives way ...
    expect(loss(50, 9) - loss(50, 8)).toBeLessThan(2.4); // ... gradually
    expect(dips.filter((dip) => dip.prominenceDb > 10).length).toBeGreaterThanOrEqual(2);
  });
});
