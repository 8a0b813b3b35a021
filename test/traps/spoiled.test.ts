import { describe, expect, it } from 'vitest';
import { bottomLimiter, type Judged, judged, VARIANTS } from './sessions';
import { randomOf, type Session } from './simulatedSession';

const LAST = 7;
const text = ({ doubts }: Judged) => doubts.map(({ message }) => message).join(' ');

/** A burst in one run: a random phasor around a frequency, as strong as the level given. */
function burst(run: number, aroundHz: number, levelDb: number): Session['spoil'] {
  const random = randomOf(77);
  const normal = () => Math.sqrt(-2 * Math.log(random())) * Math.cos(2 * Math.PI * random());
  return (db, hz, at) => {
    const octaves = Math.abs(Math.log2(hz / aroundHz));
    if (at !== run || octaves > 1) return db;
    const size = 10 ** ((levelDb - 6 * octaves) / 20) / Math.SQRT2;
    return 20 * Math.log10(Math.hypot(10 ** (db / 20) + size * normal(), size * normal()));
  };
}

const dropped = (byDb: number, belowHz: number, run = LAST): Session['spoil'] => {
  return (db, hz, at) => (at === run && hz < belowHz ? db - byDb : db);
};

describe.each(VARIANTS)('a last run with $points points', (grid) => {
  it('that a burst spoils sets no ceiling, and is named, not the run before it', () => {
    const whole = judged({ ...grid, ceilingDb: bottomLimiter });
    for (const [aroundHz, levelDb] of [
      [25, 95],
      [30, 101],
      [120, 104],
    ]) {
      const found = judged({ ...grid, ceilingDb: bottomLimiter, spoil: burst(LAST, aroundHz, levelDb) });
      for (const [band, level] of found.ladder.ceiling.levelDb.entries())
        expect(level ?? 0).toBeLessThan((whole.ladder.ceiling.levelDb[band] ?? 0) + 1);
      expect(found.headlines).not.toContain('limits-none');
      expect(text(found)).toContain('unit_plain_21');
      expect(text(found)).not.toContain('‘unit_plain_18’ does not fit');
    }
  });

  it.each([3.5, 7])('in which %s dB drop out below 35 Hz reaches no limit', (byDb) => {
    const found = judged({ ...grid, spoil: dropped(byDb, 35) });
    expect(found.ladder.ceiling.reached).not.toContain(true);
    expect(found.ladder.onset.flatMap(({ driveDb }) => driveDb.filter((drive) => drive !== null))).toEqual([]);
    expect(found.ladder.regions).toEqual([]);
    expect(found.findings.conclusions?.settings[0].extent).toBe('unknown');
    expect(text(found)).toContain('unit_plain_21');
  });

  it('that slips in all bands of a limited ladder is no limit everywhere: both readings are named', () => {
    const spoil: Session['spoil'] = (db, _hz, run) => (run === LAST ? db - 2 : db);
    const found = judged({ ...grid, ceilingDb: bottomLimiter, spoil });
    expect(found.ladder.extent).not.toBe('everywhere');
    expect(found.headlines).not.toContain('limits-none');
    expect(text(found)).toMatch(/unit_plain_21.*(whether a gain was changed or everything reached its limit)/);
  });

  it('in which a limit sets in smoothly over frequency gets no doubt', () => {
    // everything is held 2.5 dB below what the last run asks for, up to 40 Hz, and less above
    const asked = (hz: number) => 78 + 21 - 20 * Math.log10(1 + (25 / hz) ** 4);
    const found = judged({ ...grid, ceilingDb: (hz) => asked(hz) - 2.5 + 14 * Math.max(0, Math.log2(hz / 40)) });
    expect(found.doubts.map(({ message }) => message)).toEqual([]);
    expect(found.ladder.extent).toBe('bottom');
    expect(found.ladder.ceiling.reached.filter(Boolean).length).toBeGreaterThan(3);
  });
});

/** A dropout with soft edges: a bell over frequency. */
const sagged = (byDb: number, aroundHz: number, run = LAST): Session['spoil'] => {
  return (db, hz, at) => (at === run ? db - byDb * Math.exp(-((Math.log2(hz / aroundHz) / 0.45) ** 2)) : db);
};

describe.each(VARIANTS)('a loss with soft edges that one run alone shows, of $points points', (grid) => {
  it('is doubted where bands below follow the drive, and marked as that run’s', () => {
    for (const aroundHz of [50, 90]) {
      const found = judged({ ...grid, spoil: sagged(2.8, aroundHz) });
      const [limits] = found.findings.conclusions!.headlines.filter(({ code }) => code.startsWith('limits-'));
      expect(limits.text).toMatch(/limits in parts.*\(last run only\)/);
      expect(limits.doubt).toMatch(/only ‘unit_plain_21’, the last run, falls short.*One more rung would tell/);
    }
  });

  it('is marked where a louder run is left out as well', () => {
    const sag = sagged(2.8, 22, LAST - 1);
    const spoil: Session['spoil'] = (db, hz, run) => (run === LAST ? db - 7 : (sag?.(db, hz, run) ?? db));
    const found = judged({ ...grid, spoil });
    const limited = found.verdict.filter((one) => / limits (sharply )?(in|at)/.test(one));
    expect(limited.length).toBeGreaterThan(0);
    for (const text of limited) expect(text).toMatch(/^(?!.*sharply).*\(last run only\)/);
  });

  it('is a limit where the runs below show it too', () => {
    const found = judged({ ...grid, ceilingDb: bottomLimiter });
    expect(found.doubts).toEqual([]);
    for (const text of found.verdict) expect(text).not.toMatch(/last run only/);
  });
});

it('names an edge that no lower run shows where less than a step drops out of a fine curve', () => {
  const found = judged({ points: 400, spoil: dropped(2, 35) });
  expect(found.ladder.ceiling.reached).not.toContain(true);
  expect(text(found)).toMatch(/unit_plain_21.*part of the sweep dropped out, or a limit sets in there/);
});

it.each(VARIANTS)('tells a limit of the loudest run that counts as that, with $points points', (grid) => {
  // held from the last run but one on, and the last one lost in noise
  const found = judged({
    ...grid,
    ceilingDb: (hz) => 78 + 16 + 20 * Math.log10(1 / (1 + (25 / hz) ** 4)) + 14 * Math.max(0, Math.log2(hz / 40)),
    spoil: burst(LAST, 60, 125),
  });
  const limits = found.findings.conclusions?.headlines.find(({ code }) => code.startsWith('limits-'));
  expect(limits?.values?.lastOnly, limits?.text).toBe(true);
});

it('lets a limit that is there already reach the bands beside it at the last run', () => {
  const shelf = (hz: number) => 6 / (1 + (hz / 35) ** 2);
  const found = judged({ ceilingDb: bottomLimiter, extraDb: shelf, seed: 12 });
  expect(found.doubts).toEqual([]);
});

it('says from where up a unit is not limited where noise hides the bottom', () => {
  // held at 20 Hz, where noise covers it; the unit hardly plays there
  const noise = (hz: number) => (hz < 23 ? 76 : 30);
  const found = judged({ cornerHz: 38, noiseDb: noise, ceilingDb: (hz) => (hz < 23 ? 80 : 130) });
  if (found.ladder.extent === 'none') expect(found.verdict.join(' ')).toMatch(/Not driven into its limits from 2[05]/);
  expect(found.verdict.join(' ')).not.toMatch(/Not driven into its limits with/);
  const clear = judged({ cornerHz: 25 });
  expect(clear.verdict.join(' ')).toMatch(/Not driven into its limits with/);
});
