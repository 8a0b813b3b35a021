import { describe, expect, it } from 'vitest';
import type { CaptureFacts } from '../../../lib/analysis/capture/captureFacts';
import { judgeCapture } from '../../../lib/analysis/capture/judgeCapture';
import { thirdOctaveCentres } from '../../../lib/model/octaves';
import { makeCaveat } from '../../../lib/words/makeCaveat';

const frequencyHz = thirdOctaveCentres(10, 300);
const facts = (changed: Partial<CaptureFacts> = {}): CaptureFacts => ({
  recording: 'abc',
  label: 'run 3',
  about: {},
  clippedSamples: 0,
  clippedAtS: null,
  truncatedAtHz: null,
  missedBelowHz: null,
  humHz: [],
  peakDbfs: -12,
  snrDb: { frequencyHz, db: frequencyHz.map(() => 45) },
  clockPpm: 0.4,
  clockUncertaintyPpm: 0.8,
  ...changed,
});
const snr = (below: number, db: number, rest = 45) => ({
  frequencyHz,
  db: frequencyHz.map((hz) => (hz < below ? db : rest)),
});

describe('a capture', () => {
  it('without fault is good, and keeps its facts', () => {
    const given = facts();
    const copy = structuredClone(given);
    expect(judgeCapture(given)).toEqual({ ...copy, verdict: 'good', warnings: [] });
    expect(given).toEqual(copy);
  });

  it.each<[string, Partial<CaptureFacts>, 'good' | 'doubtful' | 'bad', string, RegExp]>([
    [
      'a few clipped samples',
      { clippedSamples: 12, clippedAtS: 3.214 },
      'doubtful',
      'capture-clipped',
      /^12 samples .* 3\.21 s.*gain/,
    ],
    ['one clipped sample', { clippedSamples: 1, clippedAtS: 0 }, 'doubtful', 'capture-clipped', /^1 sample clipped/],
    ['many clipped samples', { clippedSamples: 500, clippedAtS: 3 }, 'bad', 'capture-clipped', /harmonics/],
    ['its end missing', { truncatedAtHz: 181.4 }, 'doubtful', 'capture-end-missing', /up to 181\sHz.*Record until/],
    [
      'its start missing',
      { missedBelowHz: 7.31 },
      'doubtful',
      'capture-start-missing',
      /from 7\.31\sHz.*before playback/,
    ],
    ['little of the sweep', { truncatedAtHz: 19 }, 'bad', 'capture-under-octave', /octave/],
    [
      'little of the sweep, both ends missing',
      { missedBelowHz: 30, truncatedAtHz: 50 },
      'bad',
      'capture-under-octave',
      /octave/,
    ],
    ['a low level', { peakDbfs: -47 }, 'doubtful', 'capture-level-low', /\u221247\.0 dBFS.*Raise/],
    ['nothing in it', { peakDbfs: -96 }, 'bad', 'capture-no-signal', /cable/],
    ['an empty file', { peakDbfs: Number.NEGATIVE_INFINITY }, 'bad', 'capture-no-signal', /cable/],
    ['a level close to the rail', { peakDbfs: -0.2 }, 'good', 'capture-level-close', /close to clipping/],
    ['a level beyond full scale', { peakDbfs: 2 }, 'good', 'capture-level-beyond', /float/],
    [
      'noise in the lowest bands',
      { snrDb: snr(20, 4) },
      'doubtful',
      'capture-near-noise',
      /12\.5, 16, 20\sHz.*longer sweep/,
    ],
    ['noise in most bands', { snrDb: snr(100, 4) }, 'bad', 'capture-near-noise', /9 bands from 12\.5/],
    [
      'nothing left above the noise in some bands',
      { snrDb: snr(20, Number.NEGATIVE_INFINITY) },
      'doubtful',
      'capture-near-noise',
      /12\.5/,
    ],
    ['some noise', { snrDb: snr(14, 15) }, 'good', 'capture-some-noise', /less than 20\sdB/],
    [
      'hum',
      { humHz: [{ frequencyHz: 50.03, levelDb: -61.26 }] },
      'good',
      'capture-hum',
      /\u221261\.3\sdB at 50\.0\sHz.*Never lift/,
    ],
    ['two rates', { ratesHz: { capture: 44100, stimulus: 48000 } }, 'good', 'capture-rates-differ', /44100 .* 48000/],
    [
      'a clock off',
      { clockPpm: -23, clockUncertaintyPpm: 2 },
      'good',
      'capture-clock-off',
      /23 parts per million slower .*by 2/,
    ],
    ['a clock far off', { clockPpm: 300, clockUncertaintyPpm: 2 }, 'doubtful', 'capture-clock-off', /faster/],
    [
      'a clock impossibly off',
      { clockPpm: 3000, clockUncertaintyPpm: null },
      'bad',
      'capture-clock-off',
      /faster than the player's:/,
    ],
    [
      'a take that differs',
      { repeatability: { take: 'take 2', worstDb: 0.46, atHz: 31.62, medianDb: 0.1 } },
      'good',
      'take-differs',
      /take 2 by 0\.5\sdB at 31\.5\sHz/,
    ],
    [
      'a take that differs much',
      { repeatability: { take: 'take 2', worstDb: 1.4, atHz: 31.62, medianDb: 0.1 } },
      'doubtful',
      'take-differs',
      /1\.4\sdB/,
    ],
  ])('with %s', (_, changed, verdict, code, says) => {
    const judged = judgeCapture(facts(changed));
    expect(judged.verdict).toBe(verdict);
    const warning = judged.warnings.find((one) => one.code === code);
    expect(warning?.message).toMatch(says);
    expect(warning?.severity).toBe({ good: 'remark', doubtful: 'doubt', bad: 'warning' }[verdict]);
    for (const { message } of judged.warnings) expect(message).toMatch(/^[A-Z0-9].*\.$/);
  });

  it('is not blamed for what is within its bounds', () => {
    for (const changed of [
      { clockPpm: 30, clockUncertaintyPpm: 40 },
      { clockPpm: 4, clockUncertaintyPpm: 0.1 },
      { clockPpm: null, clockUncertaintyPpm: null },
      { repeatability: { take: 'b', worstDb: 0.3, atHz: 20, medianDb: 0.1 } },
      { snrDb: snr(20, Number.NaN) },
      { peakDbfs: -40 },
      { peakDbfs: -1 },
    ]) {
      expect(judgeCapture(facts(changed))).toMatchObject({ verdict: 'good', warnings: [] });
    }
  });

  it('has the gravest warning first, and hum with its unit where that is known', () => {
    const hum = [{ frequencyHz: 60, levelDb: 31 }];
    const { warnings, verdict } = judgeCapture(facts({ humHz: hum, truncatedAtHz: 200, peakDbfs: -99 }), 'spl');
    expect(verdict).toBe('bad');
    expect(warnings.map(({ code }) => code)).toEqual(['capture-no-signal', 'capture-end-missing', 'capture-hum']);
    expect(warnings[2].values).toMatchObject({ mainsHz: 60, lines: 1, levelDb: 31, unit: 'spl' });
    const relative = judgeCapture(facts({ humHz: [{ frequencyHz: 60, levelDb: -70 }] }), 'relative').warnings[0];
    expect(relative.values).toMatchObject({ unit: 'relative' });
    expect(relative.message).toContain('dBFS');
  });

  it('takes the uncertainty of a clock off before it judges', () => {
    expect(judgeCapture(facts({ clockPpm: -1500, clockUncertaintyPpm: 900 })).verdict).toBe('doubtful');
  });

  it('is judged by severities alone, whatever else was found of it', () => {
    const found = makeCaveat('capture-gaps', 'warning', { gaps: 2, atS: 3, kind: 'silent' });
    const { verdict, warnings } = judgeCapture(facts({ clippedSamples: 3, clippedAtS: 1 }), 'spl', [found]);
    expect(verdict).toBe('bad');
    expect(warnings.map(({ code }) => code)).toEqual(['capture-gaps', 'capture-clipped']);
  });

  it('expects noise in the lowest bands, and says it all the same', () => {
    const low = judgeCapture(facts({ snrDb: snr(14, 4) }));
    expect([low.verdict, low.warnings.length]).toEqual(['good', 1]);
    const higher = judgeCapture(facts({ snrDb: snr(17, 4) }));
    expect(higher.verdict).toBe('doubtful');
  });
});
