import { describe, expect, it } from 'vitest';
import { makeCurve } from '../../lib';
import type { Curve } from '../../lib/model/curve';
import { bottomLimiter, type Judged, judged, VARIANTS } from './sessions';
import { randomOf, simulateSession } from './simulatedSession';

/** Neither said nor concluded. */
function claimsNothing({ findings, headlines, details }: Judged) {
  expect(headlines).not.toContain('limits-none');
  expect(details).not.toContain('others-follow');
  expect(details).not.toContain('no-loss');
  expect(findings.conclusions?.settings.map(({ extent }) => extent)).toEqual(['unknown']);
}

const labelsOf = ({ ladder }: Judged) => {
  const byId = new Map(ladder.rungs.map(({ id, label }) => [id, label]));
  return ladder.breaks.map(({ between }) => between.map((id) => byId.get(id)));
};

describe.each(VARIANTS)('a ladder with $points points', (grid) => {
  it('in noise everywhere tells nothing', () => {
    const found = judged({ ...grid, noiseDb: () => 105 });
    claimsNothing(found);
    expect(found.headlines).toContain('limits-unknown');
    expect(found.headlines).toContain('range-in-noise');
    for (const code of ['range-in-window', 'depth-points', 'loudest', 'shape-kept', 'limits-none'])
      expect(found.headlines).not.toContain(code);
    expect(found.ladder.step.measuredDb).toBeNull();
    expect(found.findings.bandFit?.every(({ caveats }) => caveats.length === 1)).toBe(true);
  });

  it('that is limited from its first rung on is not free of limits', () => {
    const { headlines, ladder } = judged({ ...grid, sensitivityDb: 100, ceilingDb: () => 85 });
    expect(headlines).not.toContain('limits-none');
    expect(ladder.extent).not.toBe('none');
  });

  it.each([
    ['none', () => 0],
    ['half', () => 0.5],
    ['less than nothing', () => -0.5],
    ['none below 60 Hz', (hz: number) => (hz < 60 ? 0 : 1)],
  ])('of whose steps %s arrives claims nothing', (what, arrives) => {
    const found = judged({ ...grid, arrives });
    claimsNothing(found);
    if (what !== 'none below 60 Hz') {
      expect(found.ladder.step.measuredDb).toBeNull();
      expect(found.details).not.toContain('steps-as-commanded');
    }
  });

  it.each([
    ['gain slipped', (db: number, _hz: number, run: number) => (run >= 4 ? db - 6 : db)],
    ['gain slipped a little', (db: number, _hz: number, run: number) => (run >= 4 ? db - 1.2 : db)],
    [
      'microphone moved',
      (db: number, hz: number, run: number) => (run >= 4 ? db + 4 * Math.sin(6 * Math.log2(hz / 20)) : db),
    ],
  ])('in which the %s has a break there, and counts nothing across it', (_what, spoil) => {
    const found = judged({ ...grid, spoil });
    expect(labelsOf(found)).toEqual([['unit_plain_9', 'unit_plain_12']]);
    claimsNothing(found);
    // a clean step below the break is no proof that the steps differ
    expect(found.details).not.toContain('steps-differ');
    expect(found.verdict.join(' ')).not.toMatch(/\+21/);
    const said = found.doubts.map(({ message }) => message).join(' ');
    expect(said).toContain('unit_plain_9');
    expect(said).toContain('unit_plain_12');
  });

  it('whose numbering runs on into the next setting has a break, and no ladder of 27 dB', () => {
    const found = judged({ ...grid, drivesDb: [0, 3, 6, 9, 12] }, (runs) => [
      ...runs,
      ...simulateSession({ ...grid, drivesDb: [0, 3, 6, 9, 12], seed: 25, extraDb: () => -4 }).map((curve, i) =>
        renamed(curve, 15 + 3 * i),
      ),
    ]);
    expect(labelsOf(found)).toEqual([['unit_plain_12', 'unit_plain_15']]);
    claimsNothing(found);
    expect(found.verdict.join(' ')).not.toMatch(/\+27/);
  });

  it('with a file taken twice has a break and names both', () => {
    const found = judged(grid, (runs) => runs.map((run, i) => (i === 5 ? as(runs[4], run) : run)));
    const said = found.doubts.map(({ code, message }) => `${code}: ${message}`).join(' ');
    // the id is a hash of the numbers: both runs have the same
    expect(found.ladder.breaks.length).toBeGreaterThan(0);
    expect(said).toContain('unit_plain_12');
    expect(said).toContain('unit_plain_15');
  });

  it('with two swapped runs says so and keeps both out of the ceilings', () => {
    const found = judged({ ...grid, ceilingDb: bottomLimiter }, (runs) => [
      ...runs.slice(0, 3),
      as(runs[4], runs[3]),
      as(runs[3], runs[4]),
      ...runs.slice(5),
    ]);
    expect(labelsOf(found).length).toBeGreaterThan(0);
    expect(found.ladder.extent).not.toBe('none');
    const said = found.doubts.map(({ message }) => message).join(' ');
    expect(said).toMatch(/unit_plain_9.*unit_plain_12/);
  });

  it('keeps its regions and ceilings where one rung was retaken louder', () => {
    const whole = judged({ ...grid, ceilingDb: bottomLimiter });
    const found = judged({
      ...grid,
      ceilingDb: bottomLimiter,
      spoil: (db, _hz, run) => (run === 4 ? db + 2.2 : db),
    });
    expect(found.ladder.regions.length).toBeGreaterThan(0);
    expect(found.headlines).not.toContain('limits-none');
    expect(found.ladder.ceiling.reached).toEqual(whole.ladder.ceiling.reached);
    expect(found.doubts.map(({ message }) => message).join(' ')).toContain('unit_plain_12');
  });

  it('lets no spoiled rung set a ceiling', () => {
    const random = randomOf(9);
    const slam = (db: number) => 10 * Math.log10(10 ** (db / 10) + 10 ** ((108 + 4 * (random() - 0.5)) / 10));
    const whole = judged({ ...grid, ceilingDb: bottomLimiter });
    const found = judged({
      ...grid,
      ceilingDb: bottomLimiter,
      spoil: (db, hz, run) => (run === 5 && hz < 40 ? slam(db) : db),
    });
    for (const [band, level] of found.ladder.ceiling.levelDb.entries()) {
      const expected = whole.ladder.ceiling.levelDb[band];
      if (level !== null && expected !== null) expect(Math.abs(level - expected)).toBeLessThan(1);
    }
    expect(found.doubts.map(({ message }) => message).join(' ')).toContain('unit_plain_15');
  });

  it('that all bands lose with counts it as compression', () => {
    const { ladder, headlines } = judged({ ...grid, heatDb: (drive) => (drive > 9 ? (drive - 9) * 0.2 : 0) });
    const top = ladder.rungs.length - 1;
    const losses = ladder.compressionDb[top].filter((_, band) => ladder.trusted[top][band]);
    for (const loss of losses) expect(Math.abs((loss ?? Number.NaN) - 2.4)).toBeLessThan(0.6);
    expect(headlines).not.toContain('limits-none');
  });

  it('with expansion in four bands does not shift the others', () => {
    const { ladder } = judged({ ...grid, spoil: (db, hz, run) => (hz > 40 && hz < 100 && run >= 4 ? db + 1.5 : db) });
    const top = ladder.rungs.length - 1;
    for (const [band, hz] of ladder.bandsHz.entries()) {
      if (!ladder.trusted[top][band] || (hz > 35 && hz < 113)) continue;
      expect(Math.abs(ladder.compressionDb[top][band] as number)).toBeLessThan(0.4);
    }
  });

  it('whose bottom is held while the rest grows loses bottom', () => {
    const { headlines, details, ladder } = judged({ ...grid, ceilingDb: bottomLimiter });
    expect([...headlines, ...details]).toContain('shape-loses-bottom');
    expect([...headlines, ...details]).not.toContain('shape-kept');
    expect(ladder.regions.length).toBeGreaterThan(0);
  });
});

function as(curve: Curve, { label, about }: Curve): Curve {
  return makeCurve({ ...curve, label, about });
}

function renamed(curve: Curve, driveDb: number): Curve {
  return as(curve, { ...curve, label: `unit_plain_${driveDb}`, about: { ...curve.about, driveDb } });
}
