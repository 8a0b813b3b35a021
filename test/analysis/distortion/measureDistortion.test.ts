import { describe, expect, it, test } from 'vitest';
import { measureDistortion } from '../../../lib/analysis/distortion/measureDistortion';
import type { Caveat } from '../../../lib/model/caveat';
import type { Distortion } from '../../../lib/model/findings';
import { nominalHz } from '../../../lib/model/octaves';
import { findingsSchema } from '../../../lib/model/schemas';
import { averageCurves } from '../../../lib/response/averageCurves';
import { correctMicrophone } from '../../../lib/response/correctMicrophone';
import { weightCurve } from '../../../lib/response/weightCurve';
import { deconvolved } from '../../deconvolved';
import { said } from '../../said';
import { logGrid, run } from './curves';

const rounded = (values: (number | null)[], digits = 6) => values.map((v) => v && Number(v.toFixed(digits)));
const allNear = (values: (number | null)[], wanted: number, digits = 6) =>
  expect(rounded(values, digits)).toEqual(values.map(() => Number(wanted.toFixed(digits))));

/** All of one order is what these units make. */
const caveatsOf = ({ caveats }: Distortion): Caveat[] => caveats.filter(({ code }) => code !== 'thd-orders-missing');

describe('total harmonic distortion', () => {
  it('is the root of the summed power of harmonics 2 to 5 over the fundamental (IEC 60268-21)', () => {
    const got = measureDistortion(
      run({ harmonics: { 2: [-33, -90], 3: [-40, -90], 4: [-50, -90], 5: [-60, -90], 6: [-20, -90] } }),
    );
    // by hand: 100 sqrt(10^-3.3 + 10^-4 + 10^-5 + 10^-6), less four noises of 10^-9; the 6th is shown and not summed up
    allNear(got.thdPercent[0], 100 * Math.sqrt(10 ** -3.3 + 1.11e-4 - 4e-9));
    expect(got.thdToOrder).toBe(5);
    expect(got.harmonics.map(({ order }) => order)).toEqual([2, 3, 4, 5, 6]);
    allNear(got.harmonics[4].levelDb[0], -20, 3);
    allNear(got.noisePercent[0], 100 * Math.sqrt(4e-9));
    expect(got.trusted[0].every(Boolean)).toBe(true);
    expect(got.caveats).toEqual([]);
    expect(findingsSchema.parse({ distortion: [got] })).toEqual({ distortion: [got] });
  });

  it('is given in the base-10 third octaves that lie wholly in the range of the curves', () => {
    const { bandsHz, levelDb } = measureDistortion(run());
    // IEC 61260-1: 10 Hz is the lowest whose lower edge (8.91 Hz) lies above 8 Hz, 100 Hz the last whose upper (112.2) below 128
    expect(rounded(bandsHz, 2)).toEqual([10, 12.59, 15.85, 19.95, 25.12, 31.62, 39.81, 50.12, 63.1, 79.43, 100]);
    allNear(levelDb[0], 90);
  });

  it('is mean harmonic power over mean fundamental power, whatever dip the fundamental has in the band', () => {
    // Linear power from 1 to 3 units over the band: mean 2; the harmonic's own level stays at 10^-2 units.
    const frequencyHz = Array.from({ length: 200 }, (_, i) => 40 + 0.2 * i);
    const power = (hz: number) => 1 + (2 * (hz - 44.668)) / (56.234 - 44.668);
    const curves = run({
      frequencyHz,
      level: (hz) => 10 * Math.log10(power(hz)),
      harmonics: { 2: [(hz) => -20 - 10 * Math.log10(power(hz)), -200] },
    });
    const { thdPercent, bandsHz } = measureDistortion(curves);
    expect(bandsHz[0]).toBeCloseTo(50.119, 3);
    expect(thdPercent[0][0]).toBeCloseTo(100 * Math.sqrt(0.01 / 2), 2);
  });

  it('is the same on other grids, also where harmonics and response have different ones', () => {
    const slope = (hz: number) => 90 + 6 * Math.log2(hz / 40);
    const harmonics = { 3: [(hz: number) => -40 - 12 * Math.log2(hz / 40), -120] } as const;
    const spec = { level: slope, harmonics: { 3: [...harmonics[3]] as [(hz: number) => number, number] } };
    const linear = Array.from({ length: 4000 }, (_, i) => 5 + 0.05 * i);
    const [response] = run({ ...spec, frequencyHz: logGrid(48) });
    const [, third] = run({ ...spec, frequencyHz: linear });
    const mixed = measureDistortion([third, response]);
    const fine = measureDistortion(run({ ...spec, frequencyHz: logGrid(96) }));
    mixed.thdPercent[0].forEach((thd, i) => {
      // 0.01 dB
      expect(20 * Math.log10(thd! / fine.thdPercent[0][i]!)).toBeCloseTo(0, 2);
    });
  });

  it('of repeats is the mean of harmonic powers over the mean of fundamental powers', () => {
    const first = run({ capture: 'a', about: { driveDb: 3 }, level: 90, harmonics: { 2: [-40, -120] } });
    const second = run({ capture: 'b', about: { driveDb: 3 }, level: 100, harmonics: { 2: [-20, -120] } });
    const got = measureDistortion([...first, ...second]);
    // by hand: (10^5 + 10^8) / (10^9 + 10^10)
    allNear(got.thdPercent[0], 100 * Math.sqrt(1.001e8 / 1.1e10), 3);
    expect(got.rungs).toHaveLength(1);
    expect(got.caveats).toContainEqual(
      expect.objectContaining({ code: 'thd-repeats', severity: 'remark', values: { runs: 2, driveDb: 3 } }),
    );
  });

  it('of averaged responses and harmonics belongs together though they name no capture any more', () => {
    const about = { device: 'a', driveDb: 3 };
    const [a, b] = ['a', 'b'].map((capture) => run({ capture, about }));
    const louder = run({ capture: 'c', about: { device: 'a', driveDb: 6 } });
    const means = [
      averageCurves([a[0], b[0]]),
      averageCurves([a[1], { ...b[1], levelDb: b[1].levelDb.map((l) => l + 1) }]),
    ];
    const got = measureDistortion([...means, ...louder]);
    expect(got.rungs.map(({ driveDb }) => driveDb)).toEqual([3, 6]);
    allNear(got.thdPercent[0], 100 * Math.sqrt((1e-4 + 10 ** -3.9) / 2 - 1e-9));
  });
});

describe('noise', () => {
  it('is taken off harmonics and fundamental where it is known', () => {
    const got = measureDistortion(run({ level: 90, noise: 70, harmonics: { 2: [-20, -30] } }));
    // by hand, re 90 dB: fundamental 0.99, harmonic 0.009, noise 0.001
    allNear(got.thdPercent[0], 100 * Math.sqrt(0.009 / 0.99));
    allNear(got.noisePercent[0], 100 * Math.sqrt(0.001 / 0.99));
    allNear(got.levelDb[0], 90 + 10 * Math.log10(0.99));
    allNear(got.harmonics[0].levelDb[0], 10 * Math.log10(0.009 / 0.99));
  });

  it.each([
    ['harmonics 10.1 dB above it are trusted', { harmonics: { 2: [10 * Math.log10(10 ** 1.01 + 1) - 50, -50] } }, true],
    ['harmonics 9.9 dB above it are not', { harmonics: { 2: [10 * Math.log10(10 ** 0.99 + 1) - 50, -50] } }, false],
    ['a fundamental less than 10 dB above it is not', { level: 60, noise: 52 }, false],
    ['harmonics of unknown noise are not', { harmonics: { 2: [-20] } }, false],
    ['one order of unknown noise among others is enough', { harmonics: { 2: [-20, -60], 3: [-60] } }, false],
  ] as const)('decides on trust: %s', (_, spec, trusted) => {
    const got = measureDistortion(run(spec as never));
    expect(new Set(got.trusted[0])).toEqual(new Set([trusted]));
    const told = got.caveats.map(({ code }) => code);
    expect(told.includes('thd-near-noise') || told.includes('thd-noise-unknown')).toBe(!trusted);
  });

  it('that is all there is leaves no THD, and says what it would read', () => {
    const got = measureDistortion(run({ harmonics: { 2: [-50, -49] } }));
    expect(new Set(got.thdPercent[0])).toEqual(new Set([null]));
    allNear(got.noisePercent[0], 100 * Math.sqrt(10 ** -4.9));
    expect(caveatsOf(got)).toMatchObject([{ code: 'thd-near-noise', where: { bandsHz: got.bandsHz } }]);
  });

  it('that is not known makes THD an upper limit', () => {
    const got = measureDistortion(run({ harmonics: { 2: [-40] } }));
    allNear(got.thdPercent[0], 1);
    expect(got.noisePercent[0]).toEqual(got.bandsHz.map(() => null));
    expect(caveatsOf(got)).toMatchObject([{ code: 'thd-noise-unknown', severity: 'doubt' }]);
  });
});

describe('where THD passes a percentage', () => {
  const rung = (driveDb: number, percent: number, level = 90 + driveDb, noise = -120) =>
    run({
      about: { driveDb },
      capture: `c${driveDb}`,
      level,
      harmonics: { 2: [20 * Math.log10(percent / 100), noise] },
    });

  it('is read on straight lines of log % over drive, and the level between the same rungs', () => {
    const { passes } = measureDistortion([...rung(-10, 0.5), ...rung(-7, 1), ...rung(-4, 4, 95), ...rung(-1, 16, 96)]);
    // by hand: 3 % lies at log(3)/log(4) of the way from 1 to 4 %; 10 % at log(2.5)/log(4) from 4 to 16 %
    const part = Math.log(3) / Math.log(4);
    expect(passes[0].percent).toBe(3);
    allNear(passes[0].driveDb, 3 + 3 * part, 4);
    allNear(passes[0].levelDb, 83 + 12 * part, 4);
    const second = Math.log(2.5) / Math.log(4);
    allNear(passes[1].driveDb, 6 + 3 * second, 4);
    allNear(passes[1].levelDb, 95 + second, 4);
    expect(passes.flatMap(({ reached }) => reached).every(Boolean)).toBe(true);
  });

  it('is not invented where it never does: the level up to which it is cleaner at least is given instead', () => {
    const { passes } = measureDistortion([...rung(0, 0.5), ...rung(3, 1)], { percents: [2] });
    expect(new Set(passes[0].driveDb)).toEqual(new Set([null]));
    expect(new Set(passes[0].reached)).toEqual(new Set([false]));
    allNear(passes[0].levelDb, 93);
  });

  it('is not set by one spoiled run, which is named and passed over', () => {
    const clean = [0.2, 0.4, 0.8, 1.6, 3.2].map((percent, k) => rung(3 * k, percent));
    const wanted = measureDistortion(clean.flat()).passes[0];
    // a door during the second run: 12 % in all bands, or in those around 31.5 Hz
    for (const isHit of [() => true, (hz: number) => hz > 29 && hz < 34.5]) {
      const spoiled = run({
        about: { driveDb: 3 },
        capture: 'door',
        level: 93,
        harmonics: { 2: [(hz) => 20 * Math.log10(isHit(hz) ? 0.12 : 0.004), -120] },
      });
      const got = measureDistortion([...clean[0], ...spoiled, ...clean.slice(2).flat()]);
      expect(got.passes[0].driveDb).toEqual(wanted.driveDb.map((drive) => expect.closeTo(drive as number, 6)));
      const hit = got.bandsHz.filter(isHit);
      expect(got.trusted[1]).toEqual(got.bandsHz.map((hz) => !isHit(hz)));
      const [doubt, ...more] = caveatsOf(got);
      expect(doubt).toMatchObject({ code: 'thd-outlier', severity: 'doubt', where: { driveDb: [3], bandsHz: hit } });
      expect(doubt.values.percent).toBeGreaterThan(9);
      expect(more).toEqual([]);
    }
  });

  it('is not set by one band far off its neighbours at the highest drive', () => {
    const low = [0.2, 0.4].map((percent, k) => rung(3 * k, percent));
    const last = run({
      about: { driveDb: 6 },
      capture: 'last',
      level: 96,
      harmonics: { 2: [(hz) => 20 * Math.log10(hz > 29 && hz < 34.5 ? 0.2 : 0.008), -120] },
    });
    const got = measureDistortion([...low.flat(), ...last]);
    expect(got.passes[0].reached).not.toContain(true);
    expect(got.caveats.map(({ code }) => code)).toContain('thd-outlier');
  });

  it('is believed where distortion sets in steeply and stays, in one band or in all', () => {
    for (const percents of [
      [0.3, 0.3, 0.3, 9, 20],
      [0.3, 0.4, 0.5, 0.6, 12],
      [2, 2.5, 1.5, 1, 4],
    ]) {
      const got = measureDistortion(percents.flatMap((percent, k) => rung(3 * k, percent)));
      expect(caveatsOf(got), percents.join()).toEqual([]);
      expect(new Set(got.passes[0].reached)).toEqual(new Set([true]));
    }
    const bottoming = (driveDb: number) =>
      run({
        about: { driveDb },
        capture: `c${driveDb}`,
        level: 90 + driveDb,
        harmonics: { 3: [(hz) => Math.min(-10, -46 + 3 * driveDb - 24 * Math.log2(hz / 10)), -120] },
      });
    expect(caveatsOf(measureDistortion([0, 3, 6, 9].flatMap(bottoming)))).toEqual([]);
  });

  it('hides nothing where quiet runs lie below the noise: that is no news', () => {
    const quiet = (driveDb: number, percent: number) =>
      rung(driveDb, percent, 90 + driveDb, 20 * Math.log10(percent / 100) - 3);
    const got = measureDistortion([...quiet(0, 1), ...quiet(3, 0.7), ...rung(6, 1), ...rung(9, 5)]);
    expect(got.trusted[0]).not.toContain(true);
    expect(caveatsOf(got)).toEqual([]);
  });

  it('is said to be at most that where the lowest rung that tells passes already', () => {
    const got = measureDistortion([...rung(0, 5), ...rung(3, 8)], { percents: [3] });
    const { passes } = got;
    allNear(passes[0].driveDb, 0);
    allNear(passes[0].levelDb, 90);
    expect(caveatsOf(got)).toMatchObject([{ code: 'thd-passed-from-start', values: { percent: 3 } }]);
  });

  it('counts rungs whose harmonics and noise together are below as clean, passes over those that noise hides', () => {
    const noisy = (driveDb: number, percent: number) =>
      rung(driveDb, percent, 90 + driveDb, 20 * Math.log10(percent / 100) - 1);
    const hidden = measureDistortion([...noisy(0, 20), ...noisy(3, 6), ...rung(6, 12)], { percents: [3] });
    allNear(hidden.passes[0].driveDb, 6);
    expect(caveatsOf(hidden).map(({ code }) => code)).toEqual(['thd-passed-from-start']);
    const clean = measureDistortion([...noisy(0, 20), ...noisy(3, 1.5), ...rung(6, 6)], { percents: [3] });
    // by hand: 1.5 % with noise 1 dB below leaves 0.68 %, and half of it counts at the least
    allNear(clean.passes[0].driveDb, 3 + (3 * Math.log(3 / 0.75)) / Math.log(6 / 0.75), 3);
    const never = measureDistortion([...noisy(0, 20), ...noisy(3, 1.5), ...noisy(6, 6)], { percents: [3] });
    expect([never.passes[0].driveDb[3], never.passes[0].reached[3]]).toEqual([null, false]);
    allNear(never.passes[0].levelDb, 93);
  });
});

describe('what makes no distortion', () => {
  const plain = (about = {}) => run({ about, capture: JSON.stringify(about) });
  test.each([
    ['no-harmonics', () => measureDistortion([])],
    ['no-harmonics', () => measureDistortion(plain().slice(0, 1))],
    ['no-harmonics', () => measureDistortion(plain().slice(1))],
    ['no-harmonics', () => measureDistortion(run({ harmonics: { 6: [-40, -80] } }))],
    ['no-whole-band', () => measureDistortion(run({ frequencyHz: [20, 21, 22] }))],
    ['weighted-curves', () => measureDistortion([weightCurve(plain()[0], 'A'), ...plain().slice(1)])],
    ['mixed-devices', () => measureDistortion([...plain({ device: 'a' }), ...plain({ device: 'b' })])],
    ['mixed-settings', () => measureDistortion([...plain({ setting: 'a' }), ...plain({ setting: 'b' })])],
    ['mixed-scales', () => measureDistortion([...plain(), ...run({ more: { scale: 'spl' }, capture: 'x' })])],
    [
      'mixed-curves',
      () => {
        const [response, second] = plain();
        return measureDistortion([correctMicrophone(response, response), second]);
      },
    ],
    ['bad-percent', () => measureDistortion(plain(), { percents: [3, 0] })],
  ])('is refused with %s', (code, work) => {
    expect(work).toThrowError(expect.objectContaining({ code }));
  });

  it('a harmonic may be relative while its response is absolute', () => {
    const [response, second] = plain();
    expect(measureDistortion([{ ...response, scale: 'spl' }, second]).scale).toBe('spl');
  });

  it('runs without harmonics, and harmonics without their response, are left out and named', () => {
    const [lone] = run({ about: { driveDb: 3 }, capture: 'lone' });
    const [, orphan] = run({ about: { driveDb: 6 }, capture: 'orphan' });
    const got = measureDistortion([...run({ about: { driveDb: 0 }, capture: 'whole' }), lone, orphan]);
    expect(got.rungs.map(({ label }) => label)).toEqual(['whole']);
    expect(caveatsOf(got)).toMatchObject([
      { code: 'thd-run-left-out', values: { label: 'lone', lacks: 'harmonics' } },
      { code: 'thd-run-left-out', values: { label: 'orphan', lacks: 'response' } },
    ]);
  });
});

it('says which orders were not measured, in all runs and in some bands', () => {
  const low = run({ about: { driveDb: 0 }, capture: 'a', harmonics: { 2: [-40, -90], 3: [-40, -90] } });
  const high = run({ about: { driveDb: 3 }, capture: 'b', harmonics: { 2: [-40, -90], 3: [-40, -90], 4: [-20, -90] } });
  const short = [...low, ...high].map((curve) => {
    if (curve.order !== 3) return curve;
    const cut = (column: number[]) => column.slice(0, 49);
    const { frequencyHz, levelDb, noiseDb } = curve;
    return { ...curve, frequencyHz: cut(frequencyHz), levelDb: cut(levelDb), noiseDb: cut(noiseDb!) };
  });
  const got = measureDistortion(short);
  expect(got.thdToOrder).toBe(3);
  expect(got.caveats).toEqual([
    expect.objectContaining({ code: 'thd-orders-missing', values: { orders: '4 5' } }),
    expect.objectContaining({ code: 'thd-orders-incomplete', where: { bandsHz: got.bandsHz.slice(5) } }),
  ]);
  expect(got.thdPercent[1][0]).toBeCloseTo(100 * Math.sqrt(2e-4 - 2e-9), 6);
  expect(got.thdPercent[1][8]).toBeCloseTo(100 * Math.sqrt(1e-4 - 1e-9), 6);
  expect(got.harmonics[1].levelDb[1][8]).toBeNull();
});

it('leaves out the topmost bands that not all orders reach, and says nothing of them', () => {
  // harmonics followed to 400 Hz: order 5 ends at 80 Hz, inside the band of 80 Hz (71 to 89 Hz)
  const curves = run({ harmonics: { 2: [-40, -90], 3: [-40, -90], 4: [-40, -90], 5: [-40, -90] } }).map((curve) => {
    const keep = (column?: number[]) => column?.filter((_, i) => curve.frequencyHz[i] * (curve.order ?? 1) <= 400);
    const { frequencyHz, levelDb, noiseDb } = curve;
    return { ...curve, frequencyHz: keep(frequencyHz)!, levelDb: keep(levelDb)!, noiseDb: keep(noiseDb) };
  });
  const got = measureDistortion(curves);
  expect(got.bandsHz.map(nominalHz)).toEqual([10, 12.5, 16, 20, 25, 31.5, 40, 50, 63]);
  expect(got.thdPercent[0]).toHaveLength(9);
  expect(got.passes[0].levelDb).toHaveLength(9);
  expect(got.caveats).toEqual([]);
});

it('a run that ends early takes no bands from the others', () => {
  const whole = run({ about: { driveDb: 0 }, capture: 'whole' });
  const early = run({ about: { driveDb: 3 }, capture: 'early', frequencyHz: logGrid().filter((hz) => hz < 40) });
  const got = measureDistortion([...whole, ...early]);
  expect(got.bandsHz).toEqual(measureDistortion(whole).bandsHz);
  expect(got.thdPercent[1].map((thd) => thd === null)).toEqual(got.bandsHz.map((hz) => hz > 35));
  expect(got.levelDb[1][10]).toBeNull();
  expect(caveatsOf(got)).toMatchObject([
    { code: 'thd-band-not-reached', where: { bandsHz: got.bandsHz.filter((hz) => hz > 35) } },
  ]);
  const repeat = run({ about: { driveDb: 3 }, capture: 'repeat', level: 93 });
  const mended = measureDistortion([...whole, ...early, ...repeat]);
  expect(mended.levelDb[1][10]).toBeCloseTo(93, 6);
  allNear(mended.thdPercent[1], 1, 3);
});

it('counts runs of no known drive as one rung at 0 dB', () => {
  const got = measureDistortion([...run({ capture: 'a' }), ...run({ capture: 'b', level: 92 })]);
  expect(got.rungs).toMatchObject([{ driveDb: 0 }]);
  expect(caveatsOf(got)).toMatchObject([{ code: 'thd-repeats', values: { runs: 2, driveDb: 0 } }]);
});

it('names a bad capture once, however many curves come from it', () => {
  const bad = run({ capture: 'step 7' }).map((curve) => ({
    ...curve,
    steps: [deconvolved('x', { verdict: 'bad', warnings: [said('It clipped; turn down.', 'warning')] })],
  }));
  expect(measureDistortion(bad).caveats.filter(({ code }) => code.startsWith('capture'))).toMatchObject([
    { code: 'capture-not-good', values: { label: 'step 7', verdict: 'bad' } },
  ]);
});
