import { describe, expect, it } from 'vitest';
import { weightCurve } from '../../lib';
import { bottomLimiter, summary, VARIANTS } from './sessions';
import { type Session, simulateNoise, simulateSession } from './simulatedSession';

function compared(grid: Session, other: Session) {
  const found = summary([
    ...simulateSession(grid),
    ...simulateSession({ ...grid, setting: 'other', seed: 40, ...other }),
    simulateNoise(grid),
  ]);
  return { ...found, difference: found.findings.settingDifference![0] };
}

describe.each(VARIANTS)('two settings with $points points', (grid) => {
  it('are compared at one drive at which neither is limited', () => {
    const { difference, findings } = compared(grid, {
      extraDb: (hz) => 8 / (1 + (hz / 35) ** 2),
      ceilingDb: bottomLimiter,
    });
    const { a, b } = difference.runs;
    expect(a.driveDb).toBe(b.driveDb);
    const ladder = findings.ladder!.find(({ setting }) => setting === 'other')!;
    const rung = ladder.rungs.findIndex(({ driveDb }) => driveDb === b.driveDb);
    for (const [band, hz] of ladder.bandsHz.entries()) {
      if (ladder.trusted[rung][band] && hz > 15) expect(ladder.compressionDb[rung][band]).toBeLessThan(0.5);
    }
    expect(difference.kind).toBe('shelf');
    // the difference is first - second; half of 8 dB below 35 Hz
    if (difference.asymptoteDb === null) {
      expect(difference.caveats.map(({ code }) => code)).toContain('setting-asymptote-not-seen');
    } else {
      expect(Math.abs(difference.hingeHz! - 35)).toBeLessThan(2);
      expect(Math.abs(difference.asymptoteDb + 8)).toBeLessThan(0.6);
    }
    for (const { frequencyHz, differenceDb, trusted } of difference.at) {
      if (trusted) expect(Math.abs(differenceDb + 8 / (1 + (frequencyHz / 35) ** 2))).toBeLessThan(0.4);
    }
    const shown = findings.conclusions!.settings.map((one) => one.shown?.driveDb);
    expect(shown[0]).toBe(shown[1]);
    // the limiter reaches up to 45 Hz, into the reference band, and holds 20 Hz the most
    expect(findings.conclusions!.settings[1].shape?.kind).toBe('loses bottom');
    const limits = findings.conclusions!.headlines.find(({ code }) => code === 'limits-bottom')!;
    const ends = ladder.regions.flatMap(({ lowHz, highHz }) => [lowHz, highHz]);
    if (ladder.regions.length > 2) {
      expect(findings.conclusions!.details.map(({ code }) => code)).toContain('limit-regions');
      expect(limits.values.spanLowHz).toBeCloseTo(Math.min(...ends), 0);
      expect(limits.values.spanHighHz).toBeCloseTo(Math.max(...ends), 0);
    }
  });

  it('that differ in level differ in nothing else', () => {
    const { difference, headlines, doubts } = compared(grid, { extraDb: () => -4 });
    expect(difference.kind).toBe('level');
    expect(Math.abs(difference.levelDb! - 4)).toBeLessThan(0.3);
    expect(difference.hingeHz).toBeNull();
    expect(headlines).toContain('switch-level');
    expect(doubts.map(({ message }) => message).slice(2)).toEqual([]);
  });

  it('of which one has a low-pass have no shelf', () => {
    const { difference, headlines, doubts } = compared(grid, {
      extraDb: (hz) => -20 * Math.log10(1 + (hz / 80) ** 4),
    });
    expect(difference.kind).toBe('low-pass');
    expect(difference.hingeHz).toBeNull();
    expect(headlines).toContain('switch-low-pass');
    expect(doubts.map(({ message }) => message).slice(2)).toEqual([]);
  });

  it('have no cause for their own dip in being two settings of one unit', () => {
    const room = [{ hz: 47, db: -10, octaves: 0.15 }];
    const { findings, headlines } = compared({ ...grid, room }, { room });
    const dip = findings.roomFeatures!.find(
      ({ kind, frequencyHz }) => kind === 'dip' && Math.abs(frequencyHz - 47) < 2,
    );
    expect(dip?.belongsTo).toBe('unknown');
    expect(findings.bandFit!.flatMap(({ masksHz }) => masksHz)).toEqual([]);
    expect(headlines).not.toContain('room-dips');
  });

  it('name no corner where the room bends the roll-off', () => {
    const room = [
      { hz: 18, db: -9, octaves: 0.4 },
      { hz: 24, db: 8, octaves: 0.3 },
      { hz: 36, db: -9, octaves: 0.2 },
    ];
    const { findings, verdict } = compared({ ...grid, room }, { room });
    for (const { rmsErrorDb, f0Hz, q, alignment } of findings.rollOff ?? []) {
      if (rmsErrorDb > 1) expect([f0Hz, q, alignment]).toEqual([null, null, null]);
    }
    expect(findings.rollOff?.some(({ rmsErrorDb }) => rmsErrorDb > 1)).toBe(true);
    // on a coarse grid one of the settings may fit after all
    const shown = findings.conclusions!.settings.map((one) => one.shown?.curve);
    const told = findings.rollOff!.filter(({ curve }) => shown.includes(curve));
    const isTold = told.length === 0 || told.some(({ rmsErrorDb }) => rmsErrorDb <= 1);
    if (!isTold) expect(verdict.join(' ')).not.toMatch(/order high-pass|with Q/);
  });

  it('are not judged where they are weighted', () => {
    const runs = simulateSession(grid).map((curve) => weightCurve(curve, 'A'));
    const { findings, headlines } = summary([...runs, simulateNoise(grid)]);
    expect(findings.bandFit).toEqual([]);
    expect(findings.ladder).toEqual([]);
    expect(findings.rollOff).toEqual([]);
    for (const code of ['limits-none', 'range-in-window', 'depth-points']) expect(headlines).not.toContain(code);
  });
});
