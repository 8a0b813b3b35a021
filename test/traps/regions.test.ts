import { describe, expect, it } from 'vitest';
import { nominalHz } from '../../lib/model/octaves';
import { judgeSession } from './judgeSession';
import { bottomLimiter, judged, summary, VARIANTS } from './sessions';
import { simulateNoise, simulateSession } from './simulatedSession';

/** Limits that set in later towards both ends, by more than a step of 3 dB. */
const drifting = (hz: number) => 78 + Math.max(0, 3 + 6 * Math.log2(hz / 12));

describe.each(VARIANTS)('what is said of limits, with $points points', (grid) => {
  it('parts a region where onsets differ by more than a step, and names each alike', () => {
    const { ladder, findings } = judged({ ...grid, ceilingDb: drifting });
    expect(ladder.regions.length).toBeGreaterThan(1);
    for (const one of ladder.regions) expect(one.onsetToDriveDb - one.onsetDriveDb).toBeLessThanOrEqual(3 + 1e-6);
    // each limited band lies in one region, between the onsets told of it
    for (const [band, hz] of ladder.bandsHz.entries()) {
      const drive = ladder.onset[0].driveDb[band];
      const inside = ladder.regions.filter(({ lowHz, highHz }) => hz > lowHz && hz < highHz);
      expect(inside).toHaveLength(ladder.ceiling.reached[band] ? 1 : inside.length);
      if (!ladder.ceiling.reached[band] || drive === null) continue;
      expect(drive).toBeGreaterThanOrEqual(inside[0].onsetDriveDb - 1e-6);
      expect(drive).toBeLessThanOrEqual(inside[0].onsetToDriveDb + 1e-6);
    }
    const told = findings.conclusions?.details.find(({ code }) => code === 'limit-regions');
    ladder.regions.forEach(({ lowHz, highHz, onsetDriveDb, onsetToDriveDb }, k) => {
      expect(told?.values[`lowHz${k + 1}`]).toBeCloseTo(lowHz, 0);
      expect(told?.values[`highHz${k + 1}`]).toBeCloseTo(highHz, 0);
      expect(told?.values[`fromDriveDb${k + 1}`]).toBeCloseTo(onsetDriveDb, 1);
      expect(told?.values[`toDriveDb${k + 1}`]).toBeCloseTo(onsetToDriveDb, 1);
    });
  });

  it('lets the others follow the drive only where they do', () => {
    const following = judged({ ...grid, ceilingDb: bottomLimiter, cornerHz: 20 });
    const losing = judged({ ...grid, ceilingDb: (hz) => (hz < 45 ? bottomLimiter(hz) : hz > 100 ? 98 : 130) });
    expect(losing.details).toContain('others-lose');
    expect(losing.details).not.toContain('others-follow');
    for (const { ladder, details, findings } of [following, losing]) {
      if (!details.includes('others-follow')) continue;
      const top = ladder.rungs.length - 1;
      const outside = ladder.bandsHz.flatMap((hz, band) =>
        ladder.regions.some(({ lowHz, highHz }) => hz > lowHz && hz < highHz) ? [] : [band],
      );
      const sure = outside.filter((band) => ladder.trusted[top][band]);
      for (const band of sure) expect(ladder.compressionDb[top][band]).toBeLessThan(1);
      const told = findings.conclusions?.details.find(({ code }) => code === 'others-follow');
      expect(told?.values).toMatchObject({ following: sure.length, others: outside.length });
    }
  });

  it('does not let those follow that noise hides', () => {
    const noiseDb = (hz: number) => (hz > 50 ? 96 : 30);
    const { details, ladder } = judged({ ...grid, ceilingDb: bottomLimiter, noiseDb });
    const top = ladder.rungs.length - 1;
    const hidden = ladder.bandsHz.filter((hz, band) => nominalHz(hz) > 50 && !ladder.trusted[top][band]);
    expect(hidden.length).toBeGreaterThan(5);
    expect(details).not.toContain('others-follow');
  });
});

it('shows the same regions in headline, table and details of the page', () => {
  const runs = [...simulateSession({ ceilingDb: drifting }), simulateNoise({})];
  const { ladder } = summary(runs);
  const html = judgeSession(runs).report.html.replace(/&nbsp;|\u00a0/g, ' ');
  const ranges = ladder.regions.map(
    ({ lowHz, highHz }) => `${Number(lowHz.toPrecision(3))}–${Number(highHz.toPrecision(3))}`,
  );
  // table at a glance and details
  for (const range of ranges) expect(html.split(range).length - 1, range).toBeGreaterThanOrEqual(2);
});
