import { describe, expect, it } from 'vitest';
import { attachNoise, buildLadder, compareSettings, smooth, weightCurve } from '../../../lib/index';
import { isDoubted } from '../../../lib/model/caveat';
import type { Curve } from '../../../lib/model/curve';
import type { SettingDifference } from '../../../lib/model/findings';
import { makeCurve } from '../../../lib/model/makeCurve';
import {
  cookbookShelf,
  cutOff,
  drawPair,
  firstOrderShelf,
  type Gain,
  linearGrid,
  logGrid,
  lowPass4,
  measure,
  randomOf,
} from './settingSimulator';

const AT = [10, 16, 20, 31.5];
const codesOf = ({ caveats }: SettingDifference): string[] => caveats.map(({ code }) => code);
const flat: Gain = () => 0;
const plain = (gain: Gain, frequencyHz: number[], label: string): Curve =>
  makeCurve({ frequencyHz, levelDb: frequencyHz.map((hz) => 80 + gain(hz)), label });

function compared(gain: Gain, frequencyHz = logGrid(5, 400, 48)): SettingDifference {
  return compareSettings(plain(gain, frequencyHz, 'a'), plain(flat, frequencyHz, 'b'));
}

function expectValues(difference: SettingDifference, truth: Gain, within: number): void {
  for (const { frequencyHz, differenceDb } of difference.at) {
    expect(Math.abs(differenceDb - truth(frequencyHz)), `${frequencyHz} Hz`).toBeLessThan(within);
  }
}

describe('compareSettings against closed forms', () => {
  // H = (s + sqrt G) / (s + 1 / sqrt G), s in units of the hinge: |H|^2 = G where s = j, half of its decibels
  it.each([6, -6, 3, 12])('finds the half-gain point of a first-order shelf of %d dB', (db) => {
    const found = compared(firstOrderShelf(25, db));
    expect(found.hingeHz! / 25).toBeCloseTo(1, 3);
    expect(found.asymptoteDb).toBeCloseTo(db, 2);
    expectValues(found, firstOrderShelf(25, db), 0.01);
    const slope = firstOrderShelf(25, db)(12.5) - db / 2;
    expect(found.slopeDbPerOctave).toBeCloseTo(slope, 2);
  });

  // low shelf of the W3C Working Group Note "Audio EQ Cookbook", analogue prototype: half of its decibels at f0
  it.each([
    [5, 0.5],
    [-7, 0.7],
    [4, 0.9],
    [9, 1.2],
  ])('finds f0 of a second-order shelf of %d dB with Q %d', (db, q) => {
    const found = compared(cookbookShelf(30, db, q));
    expect(found.hingeHz! / 30).toBeCloseTo(1, 2);
    expect(Math.abs(found.asymptoteDb! - db)).toBeLessThan(0.05);
    expectValues(found, cookbookShelf(30, db, q), 0.05);
  });

  // second-order high-pass: |H|^2 = v / (v + 1 / v + 1 / Q^2 - 2), v = (f / f0)^2
  it.each([0.6, 1, 1.6])('reads a high-pass with Q %d, whose hinge is half of its lowest value', (q) => {
    const cut = cutOff(18, q);
    const found = compared(cut);
    expect(found.asymptoteDb).toBeNull();
    expect(cut(found.hingeHz!)).toBeCloseTo(cut(5) / 2, 1);
    expectValues(found, cut, 0.05);
    expect(codesOf(found)).toContain('setting-asymptote-not-seen');
  });

  it('reads a corner moved by a switch, in both settings a high-pass', () => {
    const moved: Gain = (hz) => cutOff(16, 0.9)(hz) - cutOff(28, 0.6)(hz);
    const found = compared(moved);
    expectValues(found, moved, 0.05);
    // far below, the ratio of two second-order high-passes is that of the corners squared
    expect(found.asymptoteDb).toBeCloseTo(40 * Math.log10(28 / 16), 1);
  });

  it('foretells the asymptote of a shelf that the range reaches only in part, and says so', () => {
    const found = compared(firstOrderShelf(20, 6), logGrid(10, 400, 24));
    expect(found.asymptoteDb).toBeCloseTo(6, 1);
    expect(found.hingeHz! / 20).toBeCloseTo(1, 2);
    expect(codesOf(found)).toContain('setting-asymptote-foretold');
  });

  it('is the same with the sign turned when a and b change places', () => {
    const f = logGrid(5, 400, 48);
    const [a, b] = [plain(cookbookShelf(30, 5, 0.7), f, 'a'), plain(flat, f, 'b')];
    const [there, back] = [compareSettings(a, b), compareSettings(b, a)];
    expect(back.hingeHz! / there.hingeHz!).toBeCloseTo(1, 3);
    expect(back.asymptoteDb! + there.asymptoteDb!).toBeCloseTo(0, 2);
  });
});

describe('compareSettings of seeded measurements with noise, repeat scatter and a room', () => {
  // a hinge of 0.03 octave (2 %) is 0.05 dB of a gentle shelf: repeats scatter by as much
  it('has nearly every hinge within 2 %, all within 3 %, and values within 0.2 dB', () => {
    const misses: string[] = [];
    const hinges: number[] = [];
    for (let seed = 0; seed < 60; seed++) {
      const { a, b, truth, hingeHz, name } = drawPair(seed);
      const found = compareSettings(a, b);
      for (const { frequencyHz: hz, differenceDb, trusted } of found.at) {
        const off = Math.abs(differenceDb - truth(hz));
        if (!trusted || off > 0.2) misses.push(`${seed} ${name}: ${hz} Hz off ${off.toFixed(3)}, trusted ${trusted}`);
      }
      if (hingeHz === null) continue;
      const off = 100 * Math.abs((found.hingeHz ?? Number.NaN) / hingeHz - 1);
      hinges.push(off);
      if (!(off < 3)) misses.push(`${seed} ${name}: hinge off ${off.toFixed(2)} %, ${codesOf(found)}`);
    }
    expect(misses).toEqual([]);
    expect(hinges.length).toBeGreaterThan(40);
    expect(hinges.filter((off) => off > 2).length).toBeLessThan(0.06 * hinges.length);
  });
});

describe('compareSettings with what goes wrong', () => {
  const shelf = firstOrderShelf(25, 6);
  const noise = { at10HzDb: 45, slopeDbPerOctave: -4 };

  it.each([3, -1.5, 8])('keeps a level offset of %d dB and counts the hinge from there', (offsetDb) => {
    const found = compared((hz) => shelf(hz) + offsetDb);
    expect(found.hingeHz! / 25).toBeCloseTo(1, 2);
    expect(found).toMatchObject({ kind: 'shelf', matchedBy: 'drive' });
    expect(found.asymptoteDb).toBeCloseTo(6, 1);
    expect(found.levelDb).toBeCloseTo(offsetDb, 1);
    expectValues(found, (hz) => shelf(hz) + offsetDb, 0.05);
    expect(codesOf(found)).toContain('setting-level-changed');
  });

  it('takes a small offset for repeat scatter and says so', () => {
    const found = compared((hz) => shelf(hz) + 0.2);
    expectValues(found, shelf, 0.03);
    expect(found.levelDb).toBe(0);
    expect(codesOf(found)).toContain('setting-offset-removed');
  });

  it('is not misled by a low-pass that one setting has in addition', () => {
    const found = compared((hz) => shelf(hz) + lowPass4(120)(hz));
    expect(Math.abs(found.hingeHz! / 25 - 1)).toBeLessThan(0.05);
    expectValues(found, shelf, 0.15);
  });

  it.each([
    ['nothing', flat, 0, 'none'],
    ['a level control', () => 4, 4, 'level'],
  ] as [string, Gain, number, string][])('finds no hinge where %s was changed', (_, gain, level, kind) => {
    const found = compared(gain);
    expect(found).toMatchObject({ kind, hingeHz: null, asymptoteDb: null, slopeDbPerOctave: null });
    expect(found.levelDb).toBeCloseTo(level, 2);
    expectValues(found, () => level, 0.01);
    expect(isDoubted(found)).toBe(false);
  });

  it('finds no hinge where nothing was changed but the noise and the scatter', () => {
    for (let seed = 0; seed < 10; seed++) {
      const random = randomOf(seed);
      const f = seed % 2 ? logGrid(5, 400, 48) : linearGrid(4, 500, 0.5);
      const [a, b] = ['a', 'b'].map((label) => measure(flat, f, { random, noise, known: true, gainDb: 0.1, label }));
      expect(compareSettings(a, b).hingeHz, `seed ${seed}`).toBeNull();
    }
  });

  it('finds no hinge in the boost of a band', () => {
    const boost: Gain = (hz) => 5 * Math.exp(-((Math.log2(hz / 30) / 0.5) ** 2));
    const found = compared(boost);
    expect(found).toMatchObject({ kind: 'other', hingeHz: null, levelDb: null });
    expectValues(found, boost, 0.25);
  });

  it('reads the value beside deep dips on grids that differ', () => {
    const random = randomOf(3);
    const a = measure(shelf, logGrid(6, 420, 96), { random, room: true, label: 'a' });
    const b = measure(flat, linearGrid(4, 500, 0.25), { random, room: true, label: 'b' });
    const found = compareSettings(a, b);
    expect(Math.abs(found.hingeHz! / 25 - 1)).toBeLessThan(0.02);
    expectValues(found, shelf, 0.1);
  });

  it('leaves out masked ranges and does not trust what lies in them', () => {
    const bump: Gain = (hz) => shelf(hz) + 6 * Math.exp(-((Math.log2(hz / 16) / 0.1) ** 2));
    const f = logGrid(5, 400, 48);
    const found = compareSettings(plain(bump, f, 'a'), plain(flat, f, 'b'), { masksHz: [[13, 20]] });
    expect(found.hingeHz! / 25).toBeCloseTo(1, 1);
    expect(found.at.find(({ frequencyHz }) => frequencyHz === 16)).toMatchObject({ trusted: false });
    expectValues(found, shelf, 0.1);
  });

  it('does not trust a bottom of mere noise, whether the noise is known or not', () => {
    const loud = { at10HzDb: 95, slopeDbPerOctave: -24 };
    for (const known of [true, false]) {
      const random = randomOf(8);
      const f = linearGrid(4, 400, 0.1);
      const [a, b] = [shelf, flat].map((gain) => measure(gain, f, { random, noise: loud, known, label: 'x' }));
      const found = compareSettings(a, b);
      const trusted = found.at.map((one) => one.trusted);
      expect(trusted, `known ${known}`).toEqual([false, false, true, true]);
      expect(Math.abs(found.at[3].differenceDb - shelf(31.5))).toBeLessThan(0.2);
    }
  });

  it('says so where noise is all there is', () => {
    const f = logGrid(5, 400, 48);
    const silent = { at10HzDb: 110, slopeDbPerOctave: 0 };
    const random = randomOf(1);
    const [a, b] = ['a', 'b'].map((label) => measure(flat, f, { random, noise: silent, known: true, label }));
    expect(compareSettings(a, b)).toMatchObject({ hingeHz: null, at: [] });
  });

  it.each([
    ['50 points, log', logGrid(5, 320, 8)],
    ['50 points, linear', linearGrid(4, 200, 4)],
    ['65,536 points', linearGrid(2, 657.36, 0.01)],
    ['raised to 20 kHz', logGrid(2, 20000, 24)],
  ])('reads a shelf from %s', (_, f) => {
    const random = randomOf(5);
    const [a, b] = [shelf, flat].map((gain, i) => measure(gain, f, { random, label: `${i}` }));
    const found = compareSettings(a, b);
    expect(Math.abs(found.hingeHz! / 25 - 1)).toBeLessThan(0.02);
    expectValues(found, shelf, 0.1);
  });

  it('reads smoothed curves with their noise', () => {
    const random = randomOf(6);
    const f = linearGrid(3, 400, 0.25);
    const [a, b] = [shelf, flat].map((gain) => {
      return smooth(measure(gain, f, { random, noise, known: true, label: 'x' }), { fraction: 24 });
    });
    const found = compareSettings(a, b);
    expect(Math.abs(found.hingeHz! / 25 - 1)).toBeLessThan(0.03);
    expectValues(found, shelf, 0.2);
  });
});

describe('the kind of change', () => {
  const noise = { at10HzDb: 45, slopeDbPerOctave: -4 };
  const drawn = (gain: Gain, seed: number, known = true): SettingDifference => {
    const random = randomOf(seed);
    const f = seed % 2 ? logGrid(6, 300, 48) : linearGrid(5, 400, 0.37);
    const of = (one: Gain, label: string) =>
      measure(one, f, { random, noise, known, room: seed % 3 === 0, gainDb: 0.1, shapeDb: 0.02, label });
    return compareSettings(of(gain, 'a'), of(flat, 'b'));
  };
  const peak = (hz: number, db: number, octaves: number): Gain => {
    return (f) => db * Math.exp(-((Math.log2(f / hz) / octaves) ** 2));
  };

  it.each<[string, Gain, SettingDifference['kind']]>([
    ['a shelf', cookbookShelf(28, 6, 0.7), 'shelf'],
    ['a shelf and a level control', (hz) => firstOrderShelf(30, -5)(hz) + 3, 'shelf'],
    ['a level control', () => -2.5, 'level'],
    ['a low-pass switched on', lowPass4(90), 'low-pass'],
    ['a low-pass moved from 70 to 110 Hz', (hz) => lowPass4(70)(hz) - lowPass4(110)(hz), 'low-pass'],
    ['a peak at 45 Hz', peak(45, 5, 0.3), 'other'],
    ['a dip at 25 Hz', peak(25, -6, 0.4), 'other'],
    ['nothing', flat, 'none'],
  ])('is told: %s', (_, gain, kind) => {
    const found = Array.from({ length: 8 }, (__, seed) => drawn(gain, seed + 40));
    expect(found.map((one) => one.kind)).toEqual(found.map(() => kind));
    const isShelf = kind === 'shelf';
    for (const one of found) {
      expect([one.hingeHz, one.slopeDbPerOctave].map((value) => value !== null)).toEqual([isShelf, isShelf]);
      expect(isDoubted(one)).toBe(false);
      for (const { frequencyHz, differenceDb, trusted } of one.at) {
        if (trusted) expect(Math.abs(differenceDb - gain(frequencyHz))).toBeLessThan(0.6);
      }
    }
  });

  it('is no shelf where nothing was changed and nothing is known of the noise', () => {
    const kinds = Array.from({ length: 60 }, (_, seed) => {
      const random = randomOf(seed + 300);
      const f = seed % 2 ? logGrid(6, 300, 48) : linearGrid(5, 400, 0.37);
      const loud = { at10HzDb: 52 + (seed % 16), slopeDbPerOctave: -5 };
      const of = (label: string) => measure(flat, f, { random, noise: loud, gainDb: 0.1, shapeDb: 0.02, label });
      const [a, b] = ['a', 'b'].map(of).map((curve) => (seed % 3 ? smooth(curve, { fraction: 12 }) : curve));
      return compareSettings(a, b).kind;
    });
    expect(kinds.filter((kind) => kind === 'shelf')).toEqual([]);
    expect(kinds.filter((kind) => kind === 'none').length).toBeGreaterThan(50);
  });

  it('is unknown, and never none, where only the upper bass stands out of the noise', () => {
    const random = randomOf(9);
    const loud = { at10HzDb: 110, slopeDbPerOctave: -14 };
    const f = logGrid(6, 300, 48);
    const [a, b] = [firstOrderShelf(15, 6), flat].map((gain) => {
      return measure(gain, f, { random, noise: loud, known: true, label: 'x' });
    });
    const found = compareSettings(a, b);
    expect(found).toMatchObject({ kind: 'unknown', hingeHz: null, levelDb: null });
    expect(codesOf(found)).toContain('setting-not-shown');
  });
});

describe('compareSettings of runs in which one setting is limited', () => {
  const shelf = cookbookShelf(35, 6, 0.7);
  const f = logGrid(6, 300, 48);
  const drives = [-12, -9, -6, -3, 0];
  const noiseDb = f.map(() => 20);
  // a limiter that guards what lies below 24 Hz in the setting that lifts the bottom
  const run = (setting: string, gain: Gain, driveDb: number): Curve => {
    const levelDb = f.map((hz) => {
      const level = 85 + gain(hz) + driveDb;
      return setting === 'deep' && hz < 24 ? Math.min(level, 84) : level;
    });
    return makeCurve({ frequencyHz: f, levelDb, noiseDb, label: `${setting} ${driveDb}`, about: { setting, driveDb } });
  };
  const deep = drives.map((drive) => run('deep', shelf, drive));
  const even = drives.map((drive) => run('even', flat, drive));
  const ladders = [buildLadder(deep), buildLadder(even)];

  it('leaves out the bands that are, and says which', () => {
    const found = compareSettings(deep[3], even[3], { ladders });
    expect(found.at.map(({ trusted }) => trusted)).toEqual([false, false, false, true]);
    expect(Math.abs(found.at[3].differenceDb - shelf(31.5))).toBeLessThan(0.2);
    const limited = found.caveats.find(({ code }) => code === 'setting-limited');
    expect(limited).toMatchObject({ severity: 'doubt', values: { setting: 'deep' }, where: { curve: deep[3].id } });
    expect(limited?.where?.bandsHz?.every((hz) => hz < 28)).toBe(true);
    // without the ladders the limiting is taken for the switch
    expect(compareSettings(deep[3], even[3]).at[2].differenceDb).toBeLessThan(shelf(20) - 1);
  });

  it('has nothing to leave out where neither is', () => {
    const found = compareSettings(deep[0], even[0], { ladders });
    expect(found.kind).toBe('shelf');
    expect(found.hingeHz! / 35).toBeCloseTo(1, 1);
    expect(found.caveats).toEqual([]);
  });
});

describe('runs whose drive is known of one only', () => {
  const f = logGrid(6, 300, 48);
  const curve = (gain: Gain, about: Curve['about']) =>
    makeCurve({ frequencyHz: f, levelDb: f.map((hz) => 80 + gain(hz)), label: 'x', about });

  it('are compared at equal level, which says nothing of the level', () => {
    const shelf = firstOrderShelf(18, 6);
    const found = compareSettings(
      curve((hz) => shelf(hz) + 7, { driveDb: 3 }),
      curve(flat, {}),
    );
    expect(found).toMatchObject({ kind: 'shelf', matchedBy: 'level', levelDb: null });
    expect(found.hingeHz! / 18).toBeCloseTo(1, 1);
    expect(found.caveats[0]).toMatchObject({ code: 'setting-matched-by-level', severity: 'doubt' });
    const even = compareSettings(
      curve(() => 7, { driveDb: 3 }),
      curve(flat, {}),
    );
    expect(even).toMatchObject({ kind: 'unknown', levelDb: null });
  });
});

describe('values beside the drawn curve', () => {
  it('lie on it, also where an offset was taken out', () => {
    const shelf = firstOrderShelf(25, 6);
    const found = compared((hz) => shelf(hz) + 0.3);
    for (const { frequencyHz, differenceDb } of found.at) {
      const k = found.curve.frequencyHz.findIndex((hz) => hz >= frequencyHz);
      expect(Math.abs(found.curve.levelDb[k] - differenceDb)).toBeLessThan(0.1);
    }
  });
});

describe('compareSettings as a function', () => {
  const f = logGrid(5, 400, 24);
  const shelf = firstOrderShelf(25, 6);

  it('takes a difference of drives off and says so', () => {
    const at = (gain: Gain, driveDb: number) =>
      makeCurve({ frequencyHz: f, levelDb: f.map((hz) => 80 + gain(hz) + driveDb), label: 'x', about: { driveDb } });
    const found = compareSettings(at(shelf, 9), at(flat, 3));
    expectValues(found, shelf, 0.02);
    expect(found.caveats[0]).toMatchObject({ code: 'setting-drives-differ', severity: 'remark', values: { db: 6 } });
    expect(found.runs).toMatchObject({ a: { driveDb: 9 }, b: { driveDb: 3 } });
  });

  it('leaves out what lies outside the range, names both and keeps the device', () => {
    const about = { device: 'unit', setting: 'lifted' };
    const a = makeCurve({ frequencyHz: f, levelDb: f.map((hz) => 80 + shelf(hz)), label: 'x', about });
    const found = compareSettings(a, plain(flat, f, 'b'), { atHz: [2, 8, 1000] });
    expect(found).toMatchObject({ device: 'unit', a: 'lifted', b: 'b' });
    expect(found.at.map(({ frequencyHz }) => frequencyHz)).toEqual([8]);
    expect(found.curve.steps[found.curve.steps.length - 1].did).toBe('difference');
  });

  it('answers for curves too short to judge', () => {
    const two = (level: number) => makeCurve({ frequencyHz: [20, 40], levelDb: [level, level] });
    expect(compareSettings(two(80), two(74))).toMatchObject({ hingeHz: null, asymptoteDb: null, at: [] });
    const five = (level: number) => makeCurve({ frequencyHz: [10, 20, 40, 80, 160], levelDb: Array(5).fill(level) });
    const found = compareSettings(five(80), five(74));
    expect(found.hingeHz).toBeNull();
    expectValues(found, () => 6, 0.01);
  });

  it('refuses what cannot be compared, with codes', () => {
    const a = plain(flat, f, 'a');
    const code = (action: () => unknown) => {
      try {
        action();
      } catch (error) {
        return (error as { code?: string }).code;
      }
      return undefined;
    };
    expect(code(() => compareSettings(a, makeCurve({ ...a, scale: 'spl' })))).toBe('mixed-scales');
    expect(code(() => compareSettings(weightCurve(a, 'A'), a))).toBe('mixed-weightings');
    expect(code(() => compareSettings(a, plain(flat, [1000, 2000], 'b')))).toBe('no-common-range');
    expect(code(() => compareSettings(a, a, { atHz: [10, Number.NaN] }))).toBe('bad-frequency');
    expect(code(() => compareSettings(a, a, { masksHz: [[40, 20]] }))).toBe('bad-interval');
  });

  it('changes nothing that it was given', () => {
    const noise = makeCurve({ frequencyHz: f, levelDb: f.map(() => 30), role: 'noise' });
    const pair = [shelf, flat].map((gain) => attachNoise(plain(gain, f, 'x'), noise));
    const before = JSON.stringify(pair);
    for (const curve of pair)
      for (const column of [curve.frequencyHz, curve.levelDb, curve.noiseDb]) Object.freeze(column);
    compareSettings(pair[0], pair[1], { masksHz: Object.freeze([[30, 32]]) as [number, number][], atHz: AT });
    expect(JSON.stringify(pair)).toBe(before);
  });
});
