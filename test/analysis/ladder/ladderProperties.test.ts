import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildLadder } from '../../../lib/analysis/ladder/buildLadder';
import type { Ladder } from '../../../lib/model/findings';
import { deriveCurve, makeCurve } from '../../../lib/model/makeCurve';
import { linearGrid, logGrid, simulate } from './ladderSimulator';

const ladders = fc
  .record({
    seed: fc.integer({ min: 0, max: 1e6 }),
    frequencyHz: fc.constantFrom(logGrid(6, 180, 24), logGrid(9, 180, 48), linearGrid(3, 160, 1)),
    rungs: fc.integer({ min: 2, max: 10 }),
    commandedStepDb: fc.constantFrom(1, 2, 3, 6),
    stepShare: fc.constantFrom(1, 29 / 30),
    scatterDb: fc.constantFrom(0, 0.1),
    snrDb: fc.constantFrom(null, 0, 20, 50),
    noiseSlopeDb: fc.constant(-5),
    knee: fc.constantFrom(null, 1, 8),
    headroomDb: fc.double({ min: 0, max: 30, noNaN: true }).map((db) => () => db),
  })
  .map(({ stepShare, ...bench }) => ({ ...bench, trueStepDb: bench.commandedStepDb * stepShare }));
const runs = { numRuns: 60 };

const cellsOf = ({ rungs, bandsHz }: Ladder) => rungs.flatMap((_, rung) => bandsHz.map((_, band) => ({ rung, band })));

describe('any ladder', () => {
  it('is the same whatever the order of its curves', () => {
    fc.assert(
      fc.property(ladders, fc.infiniteStream(fc.nat()), fc.boolean(), (bench, order, muted) => {
        const { curves, noise } = simulate(bench);
        const all = muted ? [...curves, noise] : curves;
        const shuffled = all
          .map((curve) => ({ curve, key: order.next().value as number }))
          .sort((a, b) => a.key - b.key)
          .map(({ curve }) => curve);
        expect(buildLadder(shuffled)).toEqual(buildLadder(all));
      }),
      runs,
    );
  });

  it('changes in its levels only when all runs are louder by the same', () => {
    const louder = 17.25;
    fc.assert(
      fc.property(ladders, (bench) => {
        const { curves, noise } = simulate(bench);
        const lifted = [...curves, noise].map((curve) =>
          deriveCurve(
            curve,
            { levelDb: curve.levelDb.map((db) => db + louder) },
            { did: 'own: offset', with: { db: louder } },
          ),
        );
        const [before, after] = [buildLadder([...curves, noise]), buildLadder(lifted)];
        for (const { rung, band } of cellsOf(before)) {
          const [old, level] = [before.levelDb[rung][band], after.levelDb[rung][band]];
          // what is left of a level in noise is a difference of nearly equal powers
          if ((before.snrDb[rung][band] ?? -99) > -20) expect(level).toBeCloseTo((old as number) + louder, 6);
          const loss = after.compressionDb[rung][band];
          if (loss === null) expect(before.compressionDb[rung][band]).toBeNull();
          else expect(loss).toBeCloseTo(before.compressionDb[rung][band] as number, 3);
        }
        expect(after.trusted).toEqual(before.trusted);
        expect(after.referenceRung).toEqual(before.referenceRung);
        if (before.step.measuredDb === null) expect(after.step.measuredDb).toBeNull();
        else expect(after.step.measuredDb).toBeCloseTo(before.step.measuredDb, 3);
      }),
      runs,
    );
  });

  it('keeps its trusted values when a rung far below the noise is added, onsets counting from there', () => {
    fc.assert(
      fc.property(ladders, fc.integer({ min: 5, max: 30 }), (drawn, below) => {
        const bench = { ...drawn, snrDb: drawn.snrDb ?? 30 };
        const { curves, noise } = simulate(bench);
        // another run of noise alone, put in as the lowest drive
        const silent = simulate({ ...bench, seed: bench.seed + 1 }).noise;
        const buried = makeCurve({
          ...silent,
          role: 'response',
          label: 'buried',
          about: { ...curves[0].about, driveDb: -below },
        });
        const before = buildLadder([...curves, noise]);
        const after = buildLadder([...curves, noise, buried]);
        for (const { rung, band } of cellsOf(before)) {
          const same = before.referenceRung[band] === (after.referenceRung[band] ?? 0) - 1;
          if (!before.trusted[rung][band] || !same) continue;
          expect(after.trusted[rung + 1][band]).toBe(true);
          const loss = before.compressionDb[rung][band];
          if (loss !== null) expect(after.compressionDb[rung + 1][band]).toBeCloseTo(loss, 2);
        }
        for (const [i, onset] of before.onset.entries()) {
          for (const [band, drive] of onset.driveDb.entries()) {
            if (drive !== null) expect(after.onset[i].driveDb[band]).toBeCloseTo(drive + below, 1);
          }
        }
      }),
      runs,
    );
  });

  it('carries numbers only, tables of one size, and trusts nothing without a reference', () => {
    fc.assert(
      fc.property(
        ladders,
        fc.boolean(),
        fc.constantFrom('commanded' as const, 'measured' as const),
        (bench, muted, step) => {
          const { curves, noise } = simulate(bench);
          const ladder = buildLadder(muted ? [...curves, noise] : curves, { step });
          expect(JSON.parse(JSON.stringify(ladder))).toEqual(ladder);
          expect(JSON.stringify(ladder)).not.toMatch(/NaN|Infinity/);
          for (const rows of [ladder.levelDb, ladder.compressionDb, ladder.snrDb, ladder.trusted]) {
            expect(rows.map((row) => row.length)).toEqual(ladder.rungs.map(() => ladder.bandsHz.length));
          }
          for (const { rung, band } of cellsOf(ladder)) {
            const reference = ladder.referenceRung[band];
            if (reference === null || rung < reference) expect(ladder.compressionDb[rung][band]).toBeNull();
            if (rung === reference) expect(ladder.compressionDb[rung][band]).toBe(0);
            if (reference === null) expect(ladder.trusted[rung][band]).toBe(false);
          }
          for (const region of ladder.regions) expect(region.lowHz).toBeLessThan(region.highHz);
        },
      ),
      runs,
    );
  });
});
