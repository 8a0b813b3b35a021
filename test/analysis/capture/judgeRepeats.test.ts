import { expect, test } from 'vitest';
import { judgeRepeats } from '../../../lib/analysis/capture/judgeRepeats';
import { judgeCapture, makeCurve, makeRecording, writeWav } from '../../../lib/index';
import type { About, Measurement } from '../../../lib/model/curve';
import type { Deconvolution } from '../../../lib/model/findings';
import type { Step } from '../../../lib/model/step';
import { makeCaveat } from '../../../lib/words/makeCaveat';

const frequencyHz = Array.from({ length: 200 }, (_, i) => 10 * 2 ** (i / 40));

/** What comes out of a capture, of some level everywhere. */
function found(label: string, levelDb: number, about: About, more: { clippedSamples?: number; noiseDb?: number } = {}) {
  const { clippedSamples = 0, noiseDb = -60 } = more;
  const quality = judgeCapture({
    recording: label,
    label,
    about,
    clippedSamples,
    clippedAtS: clippedSamples > 0 ? 1 : null,
    truncatedAtHz: null,
    missedBelowHz: null,
    humHz: [],
    peakDbfs: -12,
    snrDb: { frequencyHz: [20, 40], db: [50, 50] },
    clockPpm: null,
    clockUncertaintyPpm: null,
  });
  quality.warnings.push(makeCaveat('capture-noise-unknown', 'remark', {}));
  const { verdict, warnings } = quality;
  const steps = [
    { did: 'import', with: {} },
    { did: 'deconvolve', with: { capture: label, verdict, warnings } },
  ] as unknown as Step[];
  const columns = { frequencyHz, levelDb: frequencyHz.map(() => levelDb), noiseDb: frequencyHz.map(() => noiseDb) };
  const curve = { ...columns, label, about, steps };
  const one: Deconvolution = {
    impulse: makeRecording(writeWav({ sampleRateHz: 1000, channels: [[1, 0]] }), { role: 'impulse', label, steps }),
    response: makeCurve(curve),
    harmonics: [makeCurve({ ...curve, role: 'harmonic', order: 2 })],
    thd: { frequencyHz: [], percent: [] },
    delayMs: 0,
    delayUncertaintyMs: 0.05,
    quality,
  };
  return one;
}

const run = { device: 'a', setting: 'flat', driveDb: 3 };
const saidIn = ({ steps }: Measurement) => steps[1].with;

test('takes of one run are compared, judged, and their curves say so', () => {
  const before = [found('one', 0, run), found('other', 0, { ...run, driveDb: 6 }), found('two', -2, run)];
  const copy = structuredClone(before.map(({ response, quality }) => ({ response, quality })));
  const [one, other, two] = judgeRepeats(before);
  expect(one.quality.repeatability).toMatchObject({ take: 'two', worstDb: expect.closeTo(2, 9) });
  expect(two.quality.repeatability).toMatchObject({ take: 'one', medianDb: expect.closeTo(2, 9) });
  expect(one.quality.verdict).toBe('doubtful');
  expect(one.quality.warnings.map(({ code }) => code)).toEqual(['take-differs', 'capture-noise-unknown']);
  for (const measurement of [one.response, one.impulse, ...one.harmonics]) {
    expect(saidIn(measurement)).toEqual({ capture: 'one', verdict: 'doubtful', warnings: one.quality.warnings });
    expect(measurement.steps[0]).toEqual({ did: 'import', with: {} });
  }
  expect(one.response.id).toBe(before[0].response.id);
  expect(other).toBe(before[1]);
  expect(before.map(({ response, quality }) => ({ response, quality }))).toEqual(copy);
});

test('takes that agree stay good', () => {
  const [one] = judgeRepeats([found('one', 0, run), found('two', 0.1, run)]);
  expect(one.quality.verdict).toBe('good');
  expect(one.quality.repeatability?.worstDb).toBeCloseTo(0.1, 9);
});

test('runs of unknown drive, or at another place, are not taken for takes of one', () => {
  const pairs = [
    [{}, {}],
    [{ device: 'a' }, { device: 'a' }],
    [run, { ...run, position: 'wall' }],
    [run, { ...run, distanceM: 2 }],
    [run, { ...run, device: 'b' }],
    [run, { ...run, setting: 'deep' }],
  ];
  for (const [a, b] of pairs) {
    const before = [found('one', 0, a), found('two', -2, b)];
    expect(judgeRepeats(before)).toEqual(before);
  }
});

test('a bad take says nothing about a good one; the good one about the bad one', () => {
  const [good, bad] = judgeRepeats([found('good', 0, run), found('bad', -2, run, { clippedSamples: 9999 })]);
  expect(good.quality.repeatability).toBeUndefined();
  expect(good.quality.verdict).toBe('good');
  expect(bad.quality).toMatchObject({ verdict: 'bad', repeatability: { take: 'good' } });
});

test('takes with no trusted band in common are left as they are', () => {
  const before = [found('one', 0, run, { noiseDb: -3 }), found('two', -2, run, { noiseDb: -3 })];
  expect(judgeRepeats(before)).toEqual(before);
});
