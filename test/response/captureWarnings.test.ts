import { describe, expect, it } from 'vitest';
import { fitBand } from '../../lib/analysis/bandFit/fitBand';
import { buildLadder } from '../../lib/analysis/ladder/buildLadder';
import { fitRollOff } from '../../lib/analysis/rollOff/fitRollOff';
import { findRoomFeatures } from '../../lib/analysis/roomFeatures/findRoomFeatures';
import { compareSettings } from '../../lib/analysis/settingDifference/compareSettings';
import type { Caveat } from '../../lib/model/caveat';
import type { About, Curve } from '../../lib/model/curve';
import { makeCurve } from '../../lib/model/makeCurve';
import type { Step } from '../../lib/model/step';
import { attachNoise } from '../../lib/response/attachNoise';
import { averageCurves } from '../../lib/response/averageCurves';
import { captureCaveats } from '../../lib/response/captureCaveats';
import { captureWarnings } from '../../lib/response/captureWarnings';
import { smooth } from '../../lib/response/smooth';
import { makeCaveat } from '../../lib/words/makeCaveat';

/** Warnings travel with the marks as they are: what they say does not matter here. */
const warning = (text: string) => makeCaveat('near-noise', 'doubt', { label: text, snrDb: 10, lowHz: 1, highHz: 2 });
const clipped = warning('12 samples are clipped.');
const frequencyHz = Array.from({ length: 200 }, (_, i) => 8 * 2 ** (i / 36));
/** A second-order high-pass at 25 Hz with a dip at 50 Hz, as it comes out of a capture. */
const levels = (driveDb: number) =>
  frequencyHz.map(
    (hz) => 80 + driveDb - 10 * Math.log10(1 + (25 / hz) ** 4) - 9 * Math.exp(-((24 * Math.log2(hz / 50)) ** 2)),
  );

function captured(name: string, verdict: string, warnings: Caveat[], about: About = {}): Curve {
  const step = { did: 'deconvolve', with: { capture: `id of ${name}`, stimulus: 'sweep', warnings, verdict } };
  const steps = [step as Step];
  const levelDb = levels(about.driveDb ?? 0);
  return makeCurve({ frequencyHz, levelDb, noiseDb: levelDb.map(() => 0), label: name, about, steps });
}
const bad = captured('step 7', 'bad', [clipped, warning('The end is missing.')]);
const good = captured('step 6', 'good', [warning('A remark.')]);
const named = (caveats: Caveat[]) =>
  caveats
    .filter(({ code }) => code === 'capture-not-good')
    .map(({ severity, values, where }) => [severity, values.label, values.verdict, where?.curve]);

describe('the warnings of captures', () => {
  it('are read from the step, and a good capture has none', () => {
    expect(captureWarnings(bad)).toEqual([clipped, warning('The end is missing.')]);
    expect(captureWarnings(good)).toEqual([]);
    expect(captureWarnings(makeCurve({ frequencyHz: [20], levelDb: [80] }))).toEqual([]);
  });

  it('go through smoothing, averaging and noise, each capture named once', () => {
    const mean = averageCurves([smooth(bad, { fraction: 12 }), good, bad]);
    expect(captureWarnings(mean)).toEqual(captureWarnings(bad));
    const noisy = attachNoise(good, { ...bad, role: 'noise' });
    expect(captureCaveats([noisy, mean, bad])).toHaveLength(1);
    expect(named(captureCaveats([noisy, mean, bad]))).toEqual([['doubt', 'step 7', 'bad', 'id of step 7']]);
    expect(JSON.stringify(averageCurves([good, good]).steps)).not.toContain('captures');
  });

  it('are one doubt a capture; a bad capture alone is a warning', () => {
    const doubtful = captured('step 8', 'doubtful', [warning('Hum at 50 Hz.')]);
    expect(named(captureCaveats([good, bad, doubtful]))).toEqual([
      ['doubt', 'step 7', 'bad', 'id of step 7'],
      ['doubt', 'step 8', 'doubtful', 'id of step 8'],
    ]);
    expect(named(captureCaveats([bad]))).toEqual([['warning', 'step 7', 'bad', 'id of step 7']]);
    expect(named(captureCaveats([doubtful]))[0][0]).toBe('doubt');
  });

  it('of more than three captures are counted', () => {
    const doubtful = [1, 2, 3, 4, 5].map((step) => captured(`step ${step}`, 'doubtful', [clipped]));
    expect(captureCaveats(doubtful.slice(0, 3))).toHaveLength(3);
    expect(captureCaveats([...doubtful, bad, good, bad])).toEqual([
      expect.objectContaining({ code: 'captures-not-good', severity: 'doubt', values: { bad: 1, doubtful: 5 } }),
    ]);
  });
});

describe('a finding', () => {
  const run = (driveDb: number, verdict: string) => {
    const about = { device: 'a', setting: 'flat', driveDb };
    return captured(`step ${driveDb}`, verdict, verdict === 'good' ? [] : [clipped], about);
  };
  const runs = (verdict: string) => [run(0, 'good'), run(3, verdict), run(6, 'good')];
  const findings: [string, (verdict: string) => { caveats: Caveat[] }[]][] = [
    ['a band fit', (verdict) => [fitBand(run(3, verdict))]],
    ['a roll-off', (verdict) => [fitRollOff(run(3, verdict))]],
    ['a ladder', (verdict) => [buildLadder(runs(verdict))]],
    [
      'a ladder with a noise run',
      (verdict) => [buildLadder(runs('good'), { noise: { ...run(3, verdict), role: 'noise' } })],
    ],
    ['room features', (verdict) => findRoomFeatures(runs(verdict))],
    ['a setting difference', (verdict) => [compareSettings(run(0, 'good'), run(3, verdict))]],
  ];

  it.each(findings)('names the bad and doubtful captures of %s once, and no good one', (_, find) => {
    for (const verdict of ['bad', 'doubtful', 'good']) {
      const found = find(verdict);
      expect(found.length).toBeGreaterThan(0);
      for (const { caveats } of found) {
        const marks = named(caveats).map(([, label, found]) => [label, found]);
        expect(marks).toEqual(verdict === 'good' ? [] : [['step 3', verdict]]);
      }
    }
  });
});
