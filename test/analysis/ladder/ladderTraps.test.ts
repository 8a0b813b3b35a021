import { describe, expect, it } from 'vitest';
import { buildLadder } from '../../../lib/analysis/ladder/buildLadder';
import type { Caveat } from '../../../lib/model/caveat';
import type { Curve } from '../../../lib/model/curve';
import type { Ladder } from '../../../lib/model/findings';
import { makeCurve } from '../../../lib/model/makeCurve';
import { weightCurve } from '../../../lib/response/weightCurve';
import { kneeLoss, logGrid, randomOf } from './ladderSimulator';

/*
 * Ladders with something wrong about them. A unit of its own in a noise of its own, closed forms, seeds: whole runs
 * scatter by 0.1 dB, the bottom stands 25 dB and more above the noise.
 */

type Alter = (levelDb: number, hz: number, rung: number) => number;

interface Setup {
  seed?: number;
  rungs?: number;
  stepDb?: number;
  frequencyHz?: number[];
  /** Drive at which a wall stands, by frequency; none by default. */
  wallDb?: (hz: number) => number;
  alter?: Alter;
}

function measure({ seed = 1, rungs = 9, stepDb = 3, frequencyHz = logGrid(8, 220, 24), wallDb, alter }: Setup) {
  const random = randomOf(seed);
  const unit = (hz: number) => 84 - 10 * Math.log10(1 + (19 / hz) ** 8) + 3 * Math.sin(5 * Math.log2(hz));
  const noisy = (db: number) => {
    const part = 10 ** (28 / 20) * Math.SQRT1_2;
    const [re, im] = [10 ** (db / 20) + part * random.normal(), part * random.normal()];
    return 10 * Math.log10(re * re + im * im);
  };
  const runs = Array.from({ length: rungs }, (_, rung) => {
    const gain = 0.1 * random.normal();
    const drive = rung * stepDb;
    return makeCurve({
      frequencyHz,
      levelDb: frequencyHz.map((hz) => {
        const level = unit(hz) + drive + gain - (wallDb ? kneeLoss(12, drive - wallDb(hz)) : 0);
        return noisy(alter ? alter(level, hz, rung) : level);
      }),
      label: `rung ${rung}`,
      about: { device: 'unit', driveDb: drive },
    });
  });
  const noise = makeCurve({ frequencyHz, levelDb: frequencyHz.map(() => noisy(-200)), role: 'noise', label: 'muted' });
  return { runs, noise };
}

const ladderOf = (setup: Setup): Ladder => {
  const { runs, noise } = measure(setup);
  return buildLadder([...runs, noise]);
};
const at = (run: Curve, driveDb: number): Curve => ({ ...run, about: { ...run.about, driveDb } });
const labelled = (ladder: Ladder) =>
  ladder.breaks.map(({ between }) => between.map((id) => ladder.rungs.find((rung) => rung.id === id)?.label));
const doubts = ({ caveats }: Ladder) => caveats.filter(({ severity }) => severity !== 'remark').map(({ code }) => code);
const bandAt = (ladder: Ladder, hz: number) => ladder.bandsHz.findIndex((centre) => centre > hz / 1.1);
/** A wall that stands at 12 dB of drive at the bottom. */
const guard = (hz: number) => (hz < 35 ? 12 : 99);

describe('what a ladder says where nothing is wrong', () => {
  it('is no break and at most one doubt in 60 ladders of all sizes, limited or not', () => {
    for (let seed = 0; seed < 60; seed++) {
      const wallDb = [undefined, guard, (hz: number) => 11 + 4 * Math.log2(hz / 8)][seed % 3];
      const ladder = ladderOf({ seed, rungs: 5 + (seed % 8), stepDb: [2, 3, 4][seed % 3], wallDb });
      expect(ladder.breaks, `seed ${seed}`).toEqual([]);
      expect(doubts(ladder).length, `seed ${seed}: ${doubts(ladder)}`).toBeLessThanOrEqual(1);
      if (!wallDb) expect(ladder.extent).toBe('none');
    }
  });

  it('is where it limits: at the bottom, everywhere', () => {
    expect(ladderOf({ wallDb: guard }).extent).toBe('bottom');
    expect(ladderOf({ wallDb: (hz) => 12 + Math.log2(hz / 8) }).extent).toBe('everywhere');
  });

  it('parts regions where the onset jumps by more than a step', () => {
    const { regions } = ladderOf({ wallDb: (hz) => (hz < 35.5 ? 7 : 17) });
    expect(regions).toHaveLength(2);
    const [low, high] = regions;
    expect(low.highHz).toBeCloseTo(high.lowHz, 6);
    expect(low.onsetToDriveDb).toBeLessThan(10);
    expect(high.onsetDriveDb).toBeGreaterThan(15);
  });
});

describe('a ladder that does not arrive from the first rung on', () => {
  const stuck =
    (stepDb: number, below: number): Alter =>
    (level, hz, rung) =>
      level + (hz < below ? (stepDb - 3) * rung : 0);
  it.each([0, -1, 1.5].flatMap((step) => [60, 1e9].map((below) => ({ step, below }))))(
    'is not called free of limits at $step dB a step below $below Hz',
    ({ step, below }) => {
      const ladder = ladderOf({ alter: stuck(step, below) });
      expect(ladder.extent).not.toBe('none');
      expect(ladder.trusted.some((row) => row[bandAt(ladder, 40)])).toBe(false);
      if (below > 60) expect(ladder.step).toMatchObject({ measuredDb: null, uncertaintyDb: null, differs: null });
    },
  );

  it('is unknown where all files are one, and says so', () => {
    const { runs, noise } = measure({});
    const ladder = buildLadder([...runs.map((_, rung) => at(runs[0], 3 * rung)), noise]);
    expect(ladder.extent).toBe('unknown');
    expect(ladder.step.measuredDb).toBeNull();
    expect(doubts(ladder)).toContain('ladder-file-twice');
  });
});

describe('a break between two rungs', () => {
  it.each([-6, -2, 1, 2, 6])('is found where a gain slips by %s dB, and is no differing step', (slip) => {
    for (const wallDb of [undefined, guard]) {
      const ladder = ladderOf({ wallDb, alter: (level, _hz, rung) => level + (rung > 4 ? slip : 0) });
      expect(labelled(ladder)).toEqual([['rung 4', 'rung 5']]);
      expect(ladder.breaks[0].offDb).toBeLessThan(slip + 0.6);
      expect(ladder.step.differs).not.toBe(true);
      // the larger part is judged by itself: rungs 0 to 4
      expect(ladder.compressionDb[6].every((loss) => loss === null)).toBe(true);
      expect(ladder.extent).not.toBe('none');
    }
  });

  it('is found where a filter or the microphone changes, and names the bands', () => {
    const shelf = ladderOf({ alter: (level, hz, rung) => level + (rung > 4 ? 7 / (1 + (hz / 40) ** 4) : 0) });
    expect(shelf.breaks).toMatchObject([{ what: 'some bands' }]);
    const moved = ladderOf({ alter: (level, hz, rung) => level + (rung > 3 ? 5 * Math.sin(9 * Math.log2(hz)) : 0) });
    expect(labelled(moved)).toEqual([['rung 3', 'rung 4']]);
  });

  it('is found where numbering runs on into the next setting', () => {
    const [first, second] = [
      measure({ seed: 1 }),
      measure({ seed: 2, alter: (level, hz) => level - (hz < 30 ? 4 : 0) }),
    ];
    const ladder = buildLadder([...first.runs, ...second.runs.map((run, i) => at(run, 27 + 3 * i)), first.noise]);
    expect(ladder.breaks).toMatchObject([{ what: 'not rising' }]);
    expect(doubts(ladder)).toContain('ladder-not-rising');
    expect(ladder.extent).toBe('unknown');
  });

  it('is found where two rungs are swapped, and all others are judged', () => {
    const { runs, noise } = measure({ wallDb: guard });
    const ladder = buildLadder([...runs.map((run, i) => at(run, 3 * (i === 2 ? 3 : i === 3 ? 2 : i))), noise]);
    expect(doubts(ladder)).toEqual(['ladder-rungs-swapped']);
    expect(ladder.extent).toBe('bottom');
  });

  it('is a warning throughout where the level falls as drive rises', () => {
    const { runs, noise } = measure({});
    const ladder = buildLadder([...runs.map((run, i) => at(run, 24 - 3 * i)), noise]);
    expect(ladder.caveats.some(({ code, severity }) => code === 'ladder-broken' && severity === 'warning')).toBe(true);
    expect(ladder.extent).toBe('unknown');
    expect(ladder.trusted.flat().some(Boolean)).toBe(false);
  });
});

describe('one spoiled rung', () => {
  it('is named and not counted, and erases no region', () => {
    const clean = ladderOf({ wallDb: guard });
    const retaken = ladderOf({ wallDb: guard, alter: (level, _hz, rung) => level + (rung === 6 ? 4 : 0) });
    expect(doubts(retaken)).toEqual(['ladder-rung-off']);
    expect(retaken.extent).toBe(clean.extent);
    expect(retaken.ceiling.reached).toEqual(clean.ceiling.reached);
  });

  it.each([
    ['a door slams', 4, 12],
    ['a sound drops out', 8, -12],
  ])('in a few bands sets neither ceiling nor limit: %s at rung %s', (_what, spoiled, db) => {
    const bump: Alter = (level, hz, rung) =>
      level + (rung === spoiled ? db * Math.exp(-((Math.log2(hz / 50) / 0.2) ** 2)) : 0);
    const ladder = ladderOf({ alter: bump });
    expect(ladder.trusted[spoiled][bandAt(ladder, 50)]).toBe(false);
    expect(ladder.ceiling.reached.some(Boolean)).toBe(false);
    expect(ladder.regions).toEqual([]);
    expect(ladder.caveats.some(({ values }) => values.label === `rung ${spoiled}`)).toBe(true);
  });

  it('that begins late costs only its own cells', () => {
    const { runs, noise } = measure({});
    const from = runs[5].frequencyHz.findIndex((hz) => hz > 30);
    const late = makeCurve({
      ...runs[5],
      frequencyHz: runs[5].frequencyHz.slice(from),
      levelDb: runs[5].levelDb.slice(from),
    });
    const whole = buildLadder([...runs, noise]);
    const ladder = buildLadder([...runs.map((run, i) => (i === 5 ? late : run)), noise]);
    expect(ladder.bandsHz).toEqual(whole.bandsHz);
    expect(ladder.levelDb[5][0]).toBeNull();
    expect(ladder.extent).toBe('none');
    expect(ladder.trusted[8]).toEqual(whole.trusted[8]);
  });
});

describe('what all bands share', () => {
  it('is common loss where it grows with drive, and stays in the compression', () => {
    const ladder = ladderOf({ alter: (level, _hz, rung) => level - 0.03 * rung ** 2 });
    const band = bandAt(ladder, 80);
    expect(ladder.compressionDb[8][band]).toBeGreaterThan(1.5); // 1.92 dB
    expect(ladder.commonLossDb[8]).toBeGreaterThan(1.4);
    expect(ladder.commonLossDb[1]).toBeLessThan(0.2);
    expect(ladder.step.differs).toBe(false);
  });

  it('is not shifted by four bands that expand', () => {
    const ladder = ladderOf({
      alter: (level, hz, rung) => level + (hz > 71 && hz < 178 ? Math.min(1.5, 0.3 * rung) : 0),
    });
    expect(ladder.step.differs).toBe(false);
    for (const loss of ladder.compressionDb[8].slice(3, 9)) expect(Math.abs(loss as number)).toBeLessThan(0.4);
    expect(ladder.compressionDb[8][bandAt(ladder, 100)]).toBeCloseTo(-1.5, 0);
  });
});

describe('a bottom that noise hides', () => {
  /** Noise that covers the bottom at low drives. */
  const hide: (levelDb: number) => Alter = (noiseDb) => (level, hz) =>
    hz < 32 ? 10 * Math.log10(10 ** (level / 10) + 10 ** (noiseDb / 10)) : level;
  const buried = (noiseDb: number, wallDb?: (hz: number) => number): Ladder[] =>
    [1, 2, 3, 4].map((seed) => {
      const { runs } = measure({ seed, wallDb, alter: hide(noiseDb) });
      const muted = makeCurve({
        frequencyHz: runs[0].frequencyHz,
        levelDb: runs[0].frequencyHz.map((hz) => (hz < 32 ? noiseDb : 28)),
        role: 'noise',
        label: 'muted',
      });
      return buildLadder([...runs, muted]);
    });

  it.each([0, 4, 8, 14])('is never called free of limits where it is held from %s dB of drive on', (driveDb) => {
    for (const noiseDb of [68, 74, 80, 86, 92]) {
      for (const { extent } of buried(noiseDb, (hz) => (hz < 32 ? driveDb : 99))) expect(extent).not.toBe('none');
    }
  });

  it('is unknown, held or not, where it never stands clear', () => {
    for (const { extent } of buried(112)) expect(extent).toBe('unknown');
  });
});

describe('limits of what a unit hardly plays', () => {
  it('are passed over where they do not show: a limiter that guards the bottom stays at the bottom', () => {
    // a high-pass at 32 Hz: at 12 Hz the unit is 34 dB down, and no limiter has anything to hold there
    const corner: Alter = (level, hz) => level - 10 * Math.log10(1 + (32 / hz) ** 8);
    const ladder = ladderOf({ wallDb: (hz) => (hz > 17 && hz < 36 ? 12 : 99), alter: corner });
    expect(ladder.extent).toBe('bottom');
    expect(doubts(ladder)).toEqual([]);
  });
});

describe('levels that hardly rise from the first step on', () => {
  it.each([0, 1.5])('are told with both readings where %s dB of 3 arrive, in one doubt', (arrives) => {
    const ladder = ladderOf({ alter: (level, _hz, rung) => level + (arrives - 3) * rung + (rung % 2 ? 0.01 : 0) });
    expect(ladder.extent).toBe('unknown');
    expect(doubts(ladder)).toEqual(['ladder-stuck']);
    const { values, message } = ladder.caveats.find(({ code }) => code === 'ladder-stuck') as Caveat;
    expect(values.stepDb).toBe(3);
    expect(values.raisedDb).toBeCloseTo(arrives, 0);
    expect(message).toMatch(/either the unit is at its limit there already, or the drive was not raised/);
  });

  it('are no limits in parts where only bands below what the unit plays can be told', () => {
    const corner: Alter = (level, hz) => level - 10 * Math.log10(1 + (28 / hz) ** 8);
    const all = ladderOf({ wallDb: (hz) => (hz < 15 ? 14 : -12), alter: corner });
    expect(all.extent).toBe('unknown');
  });
});

it('says once that a level falls as drive rises, and names no rung', () => {
  const ladder = ladderOf({ alter: (level, _hz, rung) => level - 4 * rung });
  expect(doubts(ladder)).toEqual(['ladder-broken']);
  expect(ladder.caveats.find(({ code }) => code === 'ladder-broken')?.values).toEqual({ falls: true });
});

it('parts a region whose onset drifts by more than a step', () => {
  const ladder = ladderOf({ wallDb: (hz) => 8 + 3 * Math.log2(hz / 10), rungs: 10 });
  expect(ladder.regions.length).toBeGreaterThan(1);
  for (const { onsetDriveDb, onsetToDriveDb } of ladder.regions)
    expect(onsetToDriveDb - onsetDriveDb).toBeLessThanOrEqual(3);
});

it('follows a common loss that sets in late up to the last rung', () => {
  const ladder = ladderOf({ alter: (level, _hz, rung) => level - 0.6 * Math.max(0, rung - 4) });
  expect(ladder.extent).toBe('none');
  expect(ladder.commonLossDb[8]).toBeCloseTo(2.4, 0);
});

it('doubts repeats that differ by more than runs scatter', () => {
  const { runs, noise } = measure({});
  const again = (offDb: number) =>
    makeCurve({ ...runs[4], levelDb: runs[4].levelDb.map((db) => db + offDb), label: 'again' });
  expect(doubts(buildLadder([...runs, again(0.2), noise]))).toEqual([]);
  const apart = buildLadder([...runs, again(3), noise]);
  expect(doubts(apart)).toContain('ladder-repeats-differ');
});

it('refuses weighted curves unless asked for', () => {
  const { runs } = measure({});
  const weighted = runs.map((run) => weightCurve(run, 'A'));
  expect(() => buildLadder(weighted)).toThrowError(expect.objectContaining({ code: 'weighted-curve' }));
  expect(buildLadder(weighted, { weighted: true }).rungs).toHaveLength(9);
});
