import { describe, expect, it } from 'vitest';
import { noiseOfRuns } from '../../../lib/analysis/roomFeatures/noiseOfRuns';
import { makeCurve } from '../../../lib/model/makeCurve';
import { drawRoom, linearGrid, logGrid, measureRun, randomFrom, transferDb } from './roomScene';

const db = (power: number) => 10 * Math.log10(power);

describe('the noise of runs', () => {
  it('is shown by two runs on one grid, however coarse', () => {
    const random = randomFrom(1);
    const room = drawRoom(random);
    const frequencyHz = logGrid(48, 8, 400);
    const cleanDb = transferDb(room, frequencyHz);
    const run = { frequencyHz, cleanDb, noiseDb: -25, scatterDb: 0 };
    const [quiet] = noiseOfRuns([measureRun(random, run), measureRun(random, { ...run, driveDb: 10 })], [8, 400]);
    for (const hz of [20, 40, 80, 160]) {
      const at = frequencyHz.findIndex((f) => f >= hz);
      expect(Math.abs(db(quiet.power[at]) + 25)).toBeLessThan(6);
    }
  });

  it('is shown by a single run on a fine grid, and a room alone shows next to none', () => {
    const random = randomFrom(2);
    const room = { ...drawRoom(random), decayS: 0.8 };
    const frequencyHz = linearGrid(0.37, 8, 400);
    const cleanDb = transferDb(room, frequencyHz);
    const [noisy] = noiseOfRuns([measureRun(random, { frequencyHz, cleanDb, noiseDb: -20, scatterDb: 0 })], [8, 400]);
    const [clean] = noiseOfRuns([makeCurve({ frequencyHz, levelDb: cleanDb })], [8, 400]);
    for (const hz of [20, 40, 80, 160]) {
      const at = frequencyHz.findIndex((f) => f >= hz);
      expect(Math.abs(db(noisy.power[at]) + 20)).toBeLessThan(4);
      expect(db(clean.power[at])).toBeLessThan(-40);
    }
  });

  it('tells scatter of the level from noise that is added', () => {
    const random = randomFrom(3);
    const frequencyHz = linearGrid(0.25, 8, 400);
    const cleanDb = frequencyHz.map((hz) => 15 * Math.sin(hz / 9));
    const [run] = noiseOfRuns([measureRun(random, { frequencyHz, cleanDb, noiseDb: -60, scatterDb: 0.3 })], [8, 400]);
    const at = frequencyHz.findIndex((f) => f >= 100);
    // 0.3 dB are 0.069 of the power
    expect(Math.sqrt(run.scatter[at])).toBeGreaterThan(0.05);
    expect(Math.sqrt(run.scatter[at])).toBeLessThan(0.09);
    expect(db(run.power[at])).toBeLessThan(-30);
  });

  it('is at least what the curve brings with it', () => {
    const frequencyHz = logGrid(48, 8, 400);
    const levelDb = frequencyHz.map(() => 80);
    const [run] = noiseOfRuns([makeCurve({ frequencyHz, levelDb, noiseDb: levelDb.map(() => 50) })], [8, 400]);
    expect(db(run.power[100])).toBeCloseTo(50, 6);
  });
});
