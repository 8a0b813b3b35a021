import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { buildLadder } from '../../../lib/analysis/ladder/buildLadder';
import { studentT } from '../../../lib/analysis/ladder/gains/studentT';
import type { About, Curve } from '../../../lib/model/curve';
import type { Ladder } from '../../../lib/model/findings';
import { makeCurve } from '../../../lib/model/makeCurve';
import { kneeLoss, linearGrid, logGrid } from './ladderSimulator';

const grid = logGrid(8, 200, 48);
const flat = (db: number) => () => db;

interface RunOptions {
  frequencyHz?: number[];
  about?: About;
  label?: string;
  scale?: Curve['scale'];
}

/** A run without noise whose level is a closed form of frequency. */
function run(driveDb: number | undefined, level: (hz: number) => number, options: RunOptions = {}): Curve {
  const frequencyHz = options.frequencyHz ?? grid;
  return makeCurve({
    frequencyHz,
    levelDb: frequencyHz.map(level),
    label: options.label ?? `drive ${driveDb}`,
    scale: options.scale ?? 'relative',
    about: { ...(driveDb !== undefined && { driveDb }), device: 'unit', ...options.about },
  });
}

/** A flat unit that gives 70 dB at no drive and stops dead at a ceiling. */
const wall = (ceilingDb: number) => (drive: number) => run(drive, flat(Math.min(70 + drive, ceilingDb)));
const steps = (count: number, stepDb = 3) => Array.from({ length: count }, (_, i) => i * stepDb);
const told = ({ caveats }: Ladder, code: string) => caveats.filter((one) => one.code === code);
const refusal = (make: () => unknown) => {
  try {
    make();
  } catch (error) {
    return error as { code: string; message: string; field?: string };
  }
  throw new Error('nothing was refused');
};

describe('a ladder without noise', () => {
  it('counts compression as reference plus drive difference less level (closed form)', () => {
    // 70 + 3k dB up to 83.5 dB: lost from rung 5 on are 1.5, 4.5, 7.5 dB
    const ladder = buildLadder(steps(8).map(wall(83.5)));
    for (const [rung, row] of ladder.compressionDb.entries()) {
      for (const loss of row) expect(loss).toBeCloseTo(Math.max(0, 3 * rung - 13.5), 9);
    }
    expect(ladder.trusted.flat().every(Boolean)).toBe(true);
    expect(ladder.referenceRung.every((rung) => rung === 0)).toBe(true);
  });

  it('finds onsets on straight lines between rungs, and the level there', () => {
    const ladder = buildLadder(steps(8).map(wall(83.5)));
    // 1 dB on the line from (12 dB, 0) to (15 dB, 1.5); 3 dB on that from (15, 1.5) to (18, 4.5)
    for (const onset of ladder.onset) {
      const [drive, output] = onset.compressionDb === 1 ? [14, 82 + (2 / 3) * 1.5] : [16.5, 83.5];
      for (const found of onset.driveDb) expect(found).toBeCloseTo(drive, 9);
      for (const found of onset.outputDb) expect(found).toBeCloseTo(output, 9);
    }
    expect(ladder.onset.map((onset) => onset.compressionDb)).toEqual([1, 3]); // common practice, no source
  });

  it('says where the ceiling is reached and where it is at least so high', () => {
    const reached = buildLadder(steps(8).map(wall(83.5))).ceiling;
    expect(reached.reached.every(Boolean)).toBe(true);
    for (const level of reached.levelDb) expect(level).toBeCloseTo(83.5, 9);
    const open = buildLadder(steps(8).map(wall(200))).ceiling;
    expect(open.reached.some(Boolean)).toBe(false);
    for (const level of open.levelDb) expect(level).toBeCloseTo(91, 9);
  });

  it('has no onset, no region and no caveat but that on the noise where nothing compresses', () => {
    const ladder = buildLadder(steps(8).map(wall(200)));
    expect(ladder.onset.every((onset) => onset.driveDb.every((drive) => drive === null))).toBe(true);
    expect(ladder.regions).toEqual([]);
    expect(ladder.caveats.map(({ code, severity }) => [code, severity])).toEqual([
      ['ladder-noise-estimated', 'remark'],
    ]);
    expect(ladder.extent).toBe('none');
  });

  it('takes steps as they are, however unequal', () => {
    const ladder = buildLadder([0, 1, 4, 6, 12, 14, 20, 21].map(wall(200)));
    for (const loss of ladder.compressionDb.flat()) expect(loss).toBeCloseTo(0, 9);
    expect(ladder.step.measuredDb).toBeCloseTo(ladder.step.commandedDb, 6);
    expect(ladder.step.commandedDb).toBe(2); // the middle one of 1 1 2 2 3 6 6
  });

  it('takes the bands of IEC 61260-1 that lie wholly in the range all runs share', () => {
    const near = (hz: number) => logGrid(hz, 210, 48);
    const ladder = buildLadder(steps(5).map((d) => run(d, flat(70 + d), { frequencyHz: near(9 + d) })));
    // the highest start is 21 Hz: the 25 Hz band begins at 22.4 Hz; the ends of 160 Hz are 141 and 178 Hz
    expect(ladder.bandsHz[0]).toBeCloseTo(25.1189, 4);
    expect(ladder.bandsHz.at(-1)).toBeCloseTo(158.489, 3);
  });

  it('reads the same from logarithmic, linear and mixed grids', () => {
    const level = (d: number) => (hz: number) => 60 + d - 12 * Math.log2(40 / hz) - kneeLoss(2, d - 12);
    const grids = [grid, linearGrid(5, 210, 0.5), logGrid(7, 220, 96)];
    const results = [0, 1, 2, 'mixed'].map((kind) =>
      buildLadder(steps(8).map((d, i) => run(d, level(d), { frequencyHz: grids[kind === 'mixed' ? i % 3 : +kind] }))),
    );
    const [first] = results;
    for (const other of results) {
      const shared = other.bandsHz.map((hz) => first.bandsHz.findIndex((one) => Math.abs(one / hz - 1) < 1e-6));
      const rung = first.rungs.length - 1;
      other.compressionDb[rung].forEach((loss, band) => {
        if (shared[band] >= 0) expect(loss).toBeCloseTo(first.compressionDb[rung][shared[band]] as number, 1);
      });
    }
  });

  it('tells a wall from a unit that runs out gradually', () => {
    const bottom = (hz: number) => (hz < 28.2 ? 12 : 60);
    const limited = (sharpness: number) =>
      buildLadder(steps(10).map((d) => run(d, (hz) => 70 + d - kneeLoss(sharpness, d - bottom(hz))))).regions;
    const [guard] = limited(20);
    expect(limited(20)).toHaveLength(1);
    expect(guard.kind).toBe('limiter');
    expect(guard.lowHz).toBeLessThan(9);
    expect(guard.highHz).toBeCloseTo(28.18, 1); // upper edge of the 25 Hz band
    expect(guard.ceilingDb).toBeCloseTo(82, 1);
    expect(guard.onsetDriveDb).toBeGreaterThan(12);
    expect(guard.onsetDriveDb).toBeLessThan(13.6);
    expect(limited(1).map((region) => region.kind)).toEqual(['gradual']);
  });

  it('reports expansion and does not clip it', () => {
    const ladder = buildLadder(steps(8).map((d) => run(d, (hz) => 70 + d + (hz > 140 && d >= 15 ? 1.2 : 0))));
    const band = ladder.bandsHz.findIndex((hz) => Math.abs(hz - 158.5) < 1);
    expect(ladder.compressionDb[6][band]).toBeCloseTo(-1.2, 2); // one line of the grid straddles the edge
    const [expansion] = told(ladder, 'ladder-expansion');
    expect(expansion.where).toMatchObject({ bandsHz: [ladder.bandsHz[band]], driveDb: [15, 18, 21] });
  });

  it('measures a step of 2.9 dB where 3 dB are commanded, and counts with it on request', () => {
    const runs = steps(10).map((d) => run(d, flat(70 + (2.9 / 3) * d)));
    const commanded = buildLadder(runs);
    expect(commanded.step).toMatchObject({ commandedDb: 3, differs: true });
    expect(commanded.step.measuredDb).toBeCloseTo(2.9, 2);
    expect(commanded.compressionDb[9][5]).toBeCloseTo(0.9, 6);
    expect(told(commanded, 'ladder-step-differs')).toMatchObject([
      { severity: 'doubt', values: { used: 'commanded' } },
    ]);
    const measured = buildLadder(runs, { step: 'measured' });
    expect(measured.stepUsed).toBe('measured');
    expect(measured.compressionDb[9][5]).toBeCloseTo(0, 1);
    expect(measured.rungs[9].driveDb).toBe(27);
  });

  it('scales onset drives when the measured step is used', () => {
    const runs = steps(10).map((d) => run(d, (hz) => Math.min(70 + (2.9 / 3) * d, hz < 50 ? 85 : 200)));
    const { onset, step } = buildLadder(runs, { step: 'measured', onsetsDb: [2] });
    // true drives 14.5 (lost 0) and 17.4 dB (lost 2.4): 2 dB at 14.5 + 2.9 * 2 / 2.4
    expect(step.measuredDb).toBeCloseTo(2.9, 2);
    expect(onset[0].driveDb[0]).toBeCloseTo(14.5 + (2.9 * 2) / 2.4, 1);
  });

  it('distrusts a band whose reference rung is compressed already', () => {
    // the bottom stands still from the first rung on
    const ladder = buildLadder(steps(8).map((d) => run(d, (hz) => (hz < 28.2 ? 70 : 70 + d))));
    const low = ladder.bandsHz.findIndex((hz) => Math.abs(hz - 20) < 1);
    expect(ladder.trusted.some((row) => row[low])).toBe(false);
    expect(ladder.compressionDb[3][low]).toBeCloseTo(9, 6); // shown, not hidden
    expect(ladder.onset[0].driveDb[low]).toBeNull();
    expect(ladder.ceiling.levelDb[low]).toBeNull();
    expect([...told(ladder, 'ladder-reference-short'), ...told(ladder, 'ladder-stuck')][0].where?.bandsHz).toEqual(
      ladder.bandsHz.slice(0, 5),
    );
    expect(ladder.extent).toBe('unknown');
    expect(ladder.regions).toEqual([]);
    expect(ladder.step.measuredDb).toBeCloseTo(3, 2);
  });

  it('averages runs at one drive as repeats, and counts the same file only once', () => {
    const [a, b] = [run(3, flat(72.5), { label: 'a' }), run(3, flat(73.5), { label: 'b' })];
    const others = [0, 6, 9, 12].map((d) => run(d, flat(70 + d)));
    const ladder = buildLadder([...others, a, b, a]);
    expect(ladder.rungs).toHaveLength(5);
    expect(ladder.rungs[1].label.split(' + ').sort()).toEqual(['a', 'b']);
    expect(ladder.levelDb[1][4]).toBeCloseTo(10 * Math.log10((10 ** 7.25 + 10 ** 7.35) / 2), 9);
    expect(told(ladder, 'ladder-repeats')).toMatchObject([{ severity: 'remark', values: { runs: 2, driveDb: 3 } }]);
  });

  it('says when two drives hold the same numbers', () => {
    const same = run(6, flat(76), { label: 'first' });
    const ladder = buildLadder([
      run(0, flat(70)),
      run(3, flat(73)),
      same,
      { ...same, label: 'copy', about: { ...same.about, driveDb: 9 } },
    ]);
    expect(told(ladder, 'ladder-file-twice')).toMatchObject([{ values: { lower: 'first', upper: 'copy' } }]);
    expect(ladder.trusted[3].some(Boolean)).toBe(false);
  });

  it('shows but does not trust what cannot be told from noise: the example of the doc comment', () => {
    const few = { frequencyHz: [10, 20, 40, 80] };
    const ladder = buildLadder([run(0, flat(80), few), run(3, flat(83), few), run(6, flat(84), few)]);
    expect(ladder.snrFrom).toBe('unknown');
    expect(ladder.compressionDb[2][0]).toBeCloseTo(2, 9);
    expect(ladder.trusted.flat().some(Boolean)).toBe(false);
    expect(told(ladder, 'ladder-noise-unknown')).toHaveLength(1);
    expect(ladder.extent).toBe('unknown');
  });

  it('takes out what a whole run was too loud by, unless told not to', () => {
    const gains = [0, 0.1, -0.1, 0.05, 0.6, -0.05, 0.1, -0.1, 0, 0];
    const runs = gains.map((gain, i) =>
      run(3 * i, (hz) => 70 + 3 * i + gain - kneeLoss(4, 3 * i - (hz < 40 ? 20 : 90))),
    );
    const evened = buildLadder(runs);
    const raw = buildLadder(runs, { runs: 'as measured' });
    const band = evened.bandsHz.findIndex((hz) => Math.abs(hz - 100) < 1);
    expect(raw.compressionDb[4][band]).toBeCloseTo(-0.6, 3);
    expect(Math.abs(evened.compressionDb[4][band] as number)).toBeLessThan(0.1);
    expect(evened.levelDb[4][band]).toBeCloseTo(82.6, 3); // levels stay as measured
    expect(evened.runGainDb[4]).toBeGreaterThan(0.45);
    expect(told(evened, 'ladder-run-off')).toMatchObject([{ severity: 'remark', values: { label: 'drive 12' } }]);
    expect(raw.runGainDb.every((gain) => gain === 0)).toBe(true);
  });

  it('parts a limiter that guards the bottom from a unit that runs out above it', () => {
    // below 32 Hz a wall from 12 dB of drive on, above a soft end from 18 dB on: every band limits at last
    const level = (drive: number) => (hz: number) =>
      70 + drive - kneeLoss(hz < 32 ? 40 : 1, drive - (hz < 32 ? 12 : 18));
    const { regions } = buildLadder(steps(10).map((drive) => run(drive, level(drive))));
    expect(regions.map(({ kind }) => kind)).toEqual(['limiter', 'gradual']);
    expect(regions[0].highHz).toBeCloseTo(regions[1].lowHz, 9);
    expect(regions[0].onsetDriveDb).toBeLessThan(regions[1].onsetDriveDb + 3);
  });

  it.each([-4, 2])('leaves a run that is %s dB off as a whole as it was measured, and names it', (off) => {
    const runs = steps(9).map((drive, i) => run(drive, flat(70 + drive + (i === 4 ? off : 0))));
    const ladder = buildLadder(runs);
    const band = ladder.compressionDb.map((row) => row[8] as number);
    band.forEach((loss, i) => {
      expect(loss).toBeCloseTo(i === 4 ? -off : 0, 6);
    });
    expect(told(ladder, 'ladder-rung-off')).toMatchObject([
      { values: { label: 'drive 12', offDb: expect.closeTo(off) } },
    ]);
    expect(ladder.trusted.map((row) => row[8])).toEqual(runs.map((_, i) => i !== 4));
    expect(ladder.extent).toBe('none');
  });

  it('counts with the commanded step where the measured one is too uncertain, and says so', () => {
    // compression sets in everywhere after four rungs of ten: the step rests on those four
    const runs = steps(10).map((drive) => run(drive, flat(70 + drive - 0.3 * Math.max(0, drive - 9))));
    const ladder = buildLadder(runs, { step: 'measured' });
    expect(ladder.stepUsed).toBe('commanded');
    expect(told(ladder, 'ladder-step-uncertain')).toHaveLength(1);
    expect(() => buildLadder(runs, { step: 'x' as 'measured' })).toThrowError(/step is 'x'/);
  });

  it('does not take heat for runs that are off, nor for a smaller step', () => {
    // all bands lose together, in proportion to power: 2 dB at the top of 27 dB
    const ladder = buildLadder(
      steps(10).map((d) => run(d, flat(70 + d - 10 * Math.log10(1 + 0.585 * 10 ** ((d - 27) / 10))))),
    );
    expect(ladder.compressionDb[9][5]).toBeCloseTo(2, 1);
    expect(ladder.step.differs).toBe(false);
    expect(ladder.step.measuredDb).toBeCloseTo(3, 1);
  });

  it('holds nothing that JSON cannot carry', () => {
    const noise = makeCurve({ frequencyHz: grid, levelDb: grid.map(() => 78), role: 'noise' });
    for (const ladder of [
      buildLadder([...steps(6).map(wall(81)), noise]),
      buildLadder([run(0, flat(70)), run(3, flat(73))]),
      buildLadder([run(0, flat(-300)), run(3, flat(-300)), noise]),
    ]) {
      expect(JSON.parse(JSON.stringify(ladder))).toEqual(ladder);
      expect(JSON.stringify(ladder)).not.toMatch(/NaN|Infinity/);
    }
  });

  it('leaves what it is given as it is', () => {
    const runs = steps(6).map(wall(81));
    const before = JSON.stringify(runs);
    buildLadder(runs);
    expect(JSON.stringify(runs)).toBe(before);
  });
});

describe('the noise of a ladder', () => {
  const noise = (db: number, about: About = {}) =>
    makeCurve({ frequencyHz: grid, levelDb: grid.map(() => db), role: 'noise', label: 'muted', about });

  it('is subtracted as power: the closed form of a level on a known floor', () => {
    const floor = 50;
    const runs = steps(8).map((d) => run(d, flat(10 * Math.log10(10 ** ((52 + d) / 10) + 10 ** (floor / 10)))));
    const ladder = buildLadder(runs, { noise: noise(floor) });
    expect(ladder.snrFrom).toBe('noise run');
    for (const rung of [0, 4, 7]) {
      expect(ladder.levelDb[rung][6]).toBeCloseTo(52 + 3 * rung, 6);
      expect(ladder.snrDb[rung][6]).toBeCloseTo(2 + 3 * rung, 6);
    }
    expect(ladder.referenceRung[6]).toBe(6); // 20 dB are reached at 2 + 18 dB
    expect(ladder.compressionDb[5][6]).toBeNull();
    expect(ladder.compressionDb[7][6]).toBeCloseTo(0, 6);
    expect(ladder.trusted[2][6]).toBe(false); // 8 dB
  });

  it('comes from a noise run among the curves, else from the curves themselves, and says so', () => {
    const runs = steps(6).map(wall(200));
    expect(buildLadder([...runs, noise(30)]).snrFrom).toBe('noise run');
    const withColumn = runs.map((curve) => makeCurve({ ...curve, noiseDb: grid.map(() => 40) }));
    expect(buildLadder(withColumn).snrFrom).toBe('noise in the file');
    expect(buildLadder(withColumn).snrDb[0][3]).toBeCloseTo(10 * Math.log10(10 ** 3 - 1), 6);
    expect(buildLadder(runs).snrFrom).toBe('scatter between rungs');
    expect(buildLadder(withColumn, { noise: noise(20) }).snrFrom).toBe('noise run');
  });

  it('leaves bands untrusted that the noise run does not cover', () => {
    const short = makeCurve({ frequencyHz: [30, 50, 80, 120, 210], levelDb: [20, 20, 20, 20, 20], role: 'noise' });
    const ladder = buildLadder([...steps(6).map(wall(200)), short]);
    expect(ladder.snrDb[0][0]).toBeNull();
    expect(ladder.trusted.some((row) => row[0])).toBe(false);
    const [unknown] = told(ladder, 'ladder-noise-unknown-bands');
    expect(unknown.where?.bandsHz?.at(-1)).toBeCloseTo(31.62, 1);
  });
});

describe('what is no ladder', () => {
  const runs = steps(4).map(wall(200));

  it.each<[string, () => Curve[], RegExp]>([
    ['missing-drive', () => [...runs, run(undefined, flat(70), { label: 'lost sheep' })], /lost sheep/],
    ['missing-drive', () => [...runs, run(Number.NaN, flat(70))], /drive/],
    ['mixed-devices', () => [...runs, run(12, flat(82), { about: { device: 'other' } })], /other/],
    ['mixed-settings', () => [...runs, run(12, flat(82), { about: { setting: 'shelf' } })], /shelf/],
    ['mixed-scales', () => [...runs, run(12, flat(82), { scale: 'spl' })], /scale/],
    ['too-few-rungs', () => runs.slice(0, 1), /two drive levels/],
    ['too-few-rungs', () => [], /two drive levels/],
    ['too-few-rungs', () => [runs[0], runs[0]], /two drive levels/],
    ['too-many-rungs', () => Array.from({ length: 301 }, (_, k) => run(0.1 * k, flat(70 + 0.1 * k))), /up to 300/],
    ['no-whole-band', () => steps(3).map((d) => run(d, flat(70), { frequencyHz: [20, 20.5, 21] })), /20–21\sHz/],
  ])('is refused as %s', (code, make, message) => {
    const refused = refusal(() => buildLadder(make()));
    expect(refused.code).toBe(code);
    expect(refused.message).toMatch(message);
  });

  it('includes a noise run on another scale and onsets of no compression', () => {
    const noise = makeCurve({ frequencyHz: grid, levelDb: grid.map(() => 0), role: 'noise', scale: 'spl' });
    expect(refusal(() => buildLadder(runs, { noise })).code).toBe('mixed-scales');
    expect(refusal(() => buildLadder(runs, { onsetsDb: [1, 0] })).code).toBe('bad-onset');
  });
});

it("knows Student's t (scipy 1.10.1, test/reference/studentT.py)", () => {
  const { values } = JSON.parse(readFileSync('test/reference/studentT.json', 'utf8')) as { values: [number, number][] };
  for (const [freedom, point] of values) expect(studentT(freedom)).toBeCloseTo(point, 2);
});
