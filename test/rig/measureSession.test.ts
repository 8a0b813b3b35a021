import { describe, expect, it } from 'vitest';
import { interpolate } from '../../lib/model/interpolate';
import { measure, setUpBench } from '../../lib/rig/bench';
import { demoRig } from '../../lib/rig/demoRig';
import { drawRig } from '../../lib/rig/drawRig';
import { measureSession } from '../../lib/rig/measureSession';
import type { RigSpec } from '../../lib/rig/rigSpec';
import { unitResponse } from '../../lib/rig/unitResponse';

const quiet = (parts: Partial<RigSpec> = {}): RigSpec => ({
  seed: 4,
  unit: {
    device: 'plain',
    highPass: [{ f0Hz: 30, q: 0.7 }],
    lowPass: { hz: 150, order: 4 },
    sensitivityDb: 80,
  },
  settings: [{ name: 'flat', equaliser: { kind: 'flat' } }],
  drive: { rungs: 4, commandedStepDb: 3, trueStepDb: 2.9 },
  distanceM: 2,
  scatter: { gainDb: 0, shapeDb: 0 },
  grid: { kind: 'log', startHz: 5, endHz: 400, pointsPerOctave: 12 },
  ...parts,
});

const mean = (values: number[]) => values.reduce((sum, v) => sum + v, 0) / values.length;

describe('the virtual bench', () => {
  it('gives in free field the closed form of the unit, less the inverse-distance law, plus the true drive', () => {
    const rig = quiet();
    const curve = measure(rig, { setting: 'flat', driveDb: 6 });
    curve.frequencyHz.forEach((hz, i) => {
      const wanted = 80 + unitResponse(rig.unit, { kind: 'flat' }, hz).db - 6.0206 + (6 * 2.9) / 3;
      expect(curve.levelDb[i]).toBeCloseTo(wanted, 4);
    });
  });

  it('yields the same session from the same rig, in whatever order runs are taken', () => {
    const rig = drawRig(5);
    const { curves, noise } = measureSession(rig);
    const bench = setUpBench(JSON.parse(JSON.stringify(rig)));
    const backwards = [...curves]
      .reverse()
      .map(({ about }) => bench.measure({ setting: about.setting!, driveDb: about.driveDb! }).id);
    expect(backwards.reverse()).toEqual(curves.map((curve) => curve.id));
    expect(bench.measureNoise()?.id).toBe(noise?.id);
  });

  it('draws other rigs from other seeds, and the same from the same', () => {
    const drawn = Array.from({ length: 30 }, (_, seed) => JSON.stringify({ ...drawRig(seed), seed: 0 }));
    expect(new Set(drawn).size).toBe(30);
    expect(JSON.stringify(drawRig(11))).toBe(JSON.stringify(drawRig(11)));
  });

  it('sets what is overridden and draws the rest as before', () => {
    const { unit, room, grid } = drawRig(8);
    const changed = drawRig(8, { grid: { kind: 'linear', startHz: 2, endHz: 200, stepHz: 1 }, noise: undefined });
    expect({ unit: changed.unit, room: changed.room }).toEqual({ unit, room });
    expect(changed.grid).not.toEqual(grid);
    expect(changed.noise).toBeUndefined();
  });

  it('adds noise whose power is the expected one and whose level is spread as that of a complex normal', () => {
    const rig = quiet({
      noise: { at20HzDb: 40, slopeDbPerOctave: 0 },
      grid: { kind: 'linear', startHz: 5, endHz: 400, stepHz: 0.01 },
    });
    const levels = setUpBench(rig).measureNoise()!.levelDb;
    const n = levels.length;
    // exponential distribution of power: mean 1, deviation 1; its log has the mean -gamma (Euler) and deviation pi/sqrt 6
    expect(Math.abs(mean(levels.map((l) => 10 ** ((l - 40) / 10))) - 1)).toBeLessThan(4 / Math.sqrt(n));
    const logs = levels.map((l) => ((l - 40) / 10) * Math.LN10);
    expect(Math.abs(mean(logs) + 0.5772156649)).toBeLessThan((4 * Math.PI) / Math.sqrt(6 * n));
  });

  it('takes a muted run that is independent of the noise in the others', () => {
    const rig = quiet({
      unit: { ...quiet().unit, sensitivityDb: -100 },
      noise: { at20HzDb: 40, slopeDbPerOctave: 0 },
      grid: { kind: 'linear', startHz: 5, endHz: 400, stepHz: 0.1 },
    });
    const bench = setUpBench(rig);
    const a = bench.measure({ setting: 'flat', driveDb: 0 }).levelDb;
    for (const b of [bench.measureNoise()!, bench.measure({ setting: 'flat', driveDb: 0, take: 1 })]) {
      expect(Math.abs(correlation(a, b.levelDb))).toBeLessThan(4 / Math.sqrt(a.length));
    }
  });

  it('scatters repeats by as much as it says, in gain and over frequency', () => {
    const bench = setUpBench(quiet({ scatter: { gainDb: 0.1, shapeDb: 0.04 } }));
    const truth = bench.clean.levelDb({ kind: 'flat' }, 0);
    const off = Array.from({ length: 600 }, (_, take) =>
      bench.measure({ setting: 'flat', driveDb: 0, take }).levelDb.map((l, i) => l - truth[i]),
    );
    const total = Math.sqrt(mean(off.flat().map((d) => d * d)));
    expect(total).toBeGreaterThan(0.1);
    expect(total).toBeLessThan(0.116); // root of 0.1^2 + 0.04^2 is 0.108
    const shape = off.map((run) => run.map((d) => d - mean(run)));
    expect(Math.sqrt(mean(shape.flat().map((d) => d * d)))).toBeGreaterThan(0.025);
  });

  it('has a microphone whose file undoes its error but for the residual', () => {
    const microphone = {
      lowEndHz: 6,
      waves: [{ db: 1, octaves: 4, phase: 1 }],
      correctionPointsPerOctave: 12,
      residual: { db: 0.2, octaves: 3, phase: 0 },
    };
    const bench = setUpBench(quiet({ microphone }));
    const correction = bench.correction()!;
    const read = bench.measure({ setting: 'flat', driveDb: 0 });
    const error = interpolate(correction.frequencyHz, correction.levelDb, read.frequencyHz);
    const truth = bench.clean.levelDb({ kind: 'flat' }, 0);
    const left = read.levelDb.map((l, i) => l - error[i] - truth[i]);
    left.forEach((db, i) => {
      const wanted = 0.2 * Math.sin((2 * Math.PI * Math.log2(read.frequencyHz[i] / 20)) / 3);
      expect(Math.abs(db - wanted)).toBeLessThan(0.02);
    });
    expect(Math.abs(read.levelDb[0] - truth[0])).toBeGreaterThan(2);
  });

  it('refuses a setting it does not have, and a grid that is none', () => {
    expect(() => measure(quiet(), { setting: 'loud', driveDb: 0 })).toThrow(/no setting 'loud'; it has 'flat/);
    const grid = { kind: 'log' as const, startHz: 20, endHz: 20, pointsPerOctave: 12 };
    expect(() => measure(quiet({ grid }), { setting: 'flat', driveDb: 0 })).toThrow(
      expect.objectContaining({ code: 'bad-grid' }),
    );
  });

  it('plays the demo at levels that a subwoofer in a living room has', () => {
    const { curves } = measureSession(demoRig());
    const peak = (i: number) => Math.max(...curves[i].levelDb);
    expect(peak(0)).toBeGreaterThan(70);
    expect(Math.max(...curves.map((_, i) => peak(i)))).toBeLessThan(115);
  });
});

function correlation(a: number[], b: number[]): number {
  const [ma, mb] = [mean(a), mean(b)];
  const covariance = mean(a.map((x, i) => (x - ma) * (b[i] - mb)));
  return covariance / Math.sqrt(mean(a.map((x) => (x - ma) ** 2)) * mean(b.map((x) => (x - mb) ** 2)));
}
