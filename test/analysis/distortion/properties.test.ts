import fc from 'fast-check';
import { expect, test } from 'vitest';
import { measureDistortion } from '../../../lib/analysis/distortion/measureDistortion';
import { logGrid, run } from './curves';

const level = fc.double({ min: 40, max: 120, noNaN: true });
const ratio = fc.double({ min: -80, max: 0, noNaN: true });
const orders = fc
  .uniqueArray(fc.integer({ min: 2, max: 8 }), { minLength: 1, maxLength: 5 })
  .filter((all) => all.some((one) => one <= 5));
const rung = fc.record({
  level,
  ratios: fc.array(ratio, { minLength: 8, maxLength: 8 }),
  noise: ratio,
  slope: fc.double({ min: -12, max: 12, noNaN: true }),
});
/** Ladders of one to four rungs with drawn levels, harmonics, slopes and noise. */
const ladder = fc
  .record({ orders, rungs: fc.array(rung, { minLength: 1, maxLength: 4 }) })
  .map(({ orders: all, rungs }) =>
    rungs.flatMap(({ level: db, ratios, noise, slope }, i) =>
      run({
        about: { device: 'a', driveDb: 3 * i },
        capture: `c${i}`,
        frequencyHz: logGrid(6 + 3 * i),
        level: (hz) => db + slope * Math.log2(hz / 30),
        harmonics: Object.fromEntries(all.map((order) => [order, [ratios[order - 1] + slope, noise - 30]])),
      }),
    ),
  );
const runs = { numRuns: 150 };

test('the order of the curves does not matter', () => {
  const shuffled = ladder.chain((curves) =>
    fc.tuple(fc.constant(curves), fc.shuffledSubarray(curves, { minLength: curves.length, maxLength: curves.length })),
  );
  fc.assert(
    fc.property(shuffled, ([curves, mixed]) => {
      expect(measureDistortion(mixed)).toEqual(measureDistortion(curves));
    }),
    runs,
  );
});

test('curves are left as they were, and giving them twice changes nothing', () => {
  fc.assert(
    fc.property(ladder, (curves) => {
      const before = JSON.stringify(curves);
      const once = measureDistortion(curves);
      expect(measureDistortion([...curves, ...structuredClone(curves)])).toEqual(once);
      expect(JSON.stringify(curves)).toBe(before);
    }),
    { numRuns: 50 },
  );
});

test('louder by so much at the microphone is another level and the same distortion', () => {
  fc.assert(
    fc.property(ladder, fc.double({ min: -30, max: 30, noNaN: true }), (curves, by) => {
      const raised = curves.map((curve) =>
        curve.role === 'response' ? { ...curve, levelDb: curve.levelDb.map((db) => db + by) } : curve,
      );
      const [was, is] = [measureDistortion(curves), measureDistortion(raised)];
      is.thdPercent.flat().forEach((thd, i) => {
        const old = was.thdPercent.flat()[i];
        if (thd === null || old === null) expect(thd).toBe(old);
        else expect(thd / old).toBeCloseTo(1, 6);
      });
      is.levelDb.flat().forEach((db, i) => {
        expect(db).toBeCloseTo(was.levelDb.flat()[i]! + by, 6);
      });
      expect(is.trusted).toEqual(was.trusted);
    }),
    runs,
  );
});

test('the square of THD is the sum of its harmonics, those that noise swallows counted below zero by no more than that', () => {
  fc.assert(
    fc.property(ladder, (curves) => {
      const { thdPercent, harmonics, noisePercent, thdToOrder, trusted } = measureDistortion(curves);
      thdPercent.forEach((row, k) => {
        row.forEach((thd, band) => {
          if (!trusted[k][band]) return;
          const sum = harmonics
            .filter(({ order }) => order <= thdToOrder)
            .map(({ levelDb }) => 10 ** ((levelDb[k][band] ?? Number.NEGATIVE_INFINITY) / 10))
            .reduce((total, power) => total + power, 0);
          expect((thd! / 100) ** 2).toBeLessThanOrEqual(sum * (1 + 1e-9));
          expect((thd! / 100) ** 2).toBeGreaterThanOrEqual((sum - (noisePercent[k][band]! / 100) ** 2) * (1 - 1e-9));
        });
      });
    }),
    runs,
  );
});

test('where nothing is hidden, a higher percentage is passed no earlier, and between the rungs that there are', () => {
  const percents = [1, 3, 10, 30];
  fc.assert(
    fc.property(ladder, (curves) => {
      const quiet = curves.map((curve) => ({
        ...curve,
        ...(curve.noiseDb && { noiseDb: curve.noiseDb.map(() => -200) }),
      }));
      const { passes, rungs, bandsHz } = measureDistortion(quiet, { percents });
      const most = rungs[rungs.length - 1].driveDb - rungs[0].driveDb;
      bandsHz.forEach((_, band) => {
        const drives = passes.map(({ driveDb }) => driveDb[band]);
        expect(passes.map(({ reached }) => reached[band])).toEqual(drives.map((drive) => drive !== null));
        const rising = drives.map((drive) => drive ?? most + 1);
        expect(rising).toEqual([...rising].sort((a, b) => a - b));
        for (const drive of drives) if (drive !== null) expect(drive >= 0 && drive <= most).toBe(true);
      });
    }),
    runs,
  );
});
