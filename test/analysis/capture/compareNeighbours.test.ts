import { expect, test } from 'vitest';
import { compareNeighbours } from '../../../lib/analysis/capture/compareNeighbours';
import { judgeCapture, makeCurve, makeRecording, writeWav } from '../../../lib/index';
import type { Deconvolution } from '../../../lib/model/findings';
import { randomFrom } from '../../../lib/rig/random';

const frequencyHz = Array.from({ length: 250 }, (_, i) => 10 * 2 ** (i / 48));
type Column = (hz: number, driveDb: number) => number;

/** A ladder of runs 3 dB apart that compresses smoothly from 9 dB on, its THD rising by 1 dB a dB. */
function ladder(odd: number, change: { level?: Column; noise?: Column; thd?: Column }, label = 'run'): Deconvolution[] {
  const random = randomFrom([label, odd]);
  return Array.from({ length: 6 }, (_, i) => {
    const driveDb = 3 * i;
    const about = { device: 'a', setting: 'flat', driveDb };
    const of = (part: keyof typeof change, otherwise: Column) =>
      frequencyHz.map((hz) => otherwise(hz, driveDb) + (i === odd ? (change[part]?.(hz, driveDb) ?? 0) : 0));
    const scatter = 0.1 * random.normal();
    const response = {
      frequencyHz,
      levelDb: of('level', () => 80 + Math.min(driveDb, 9 + 0.3 * (driveDb - 9)) + scatter),
      noiseDb: of('noise', () => 30 + random.normal()),
      about,
      label: `${label} ${i}`,
      steps: [],
    };
    const harmonic = { ...response, role: 'harmonic' as const, order: 2 };
    const levelDb = of('thd', () => -50 + driveDb);
    const quality = judgeCapture({
      recording: `${i}`,
      label: `${label} ${i}`,
      about,
      clippedSamples: 0,
      clippedAtS: null,
      truncatedAtHz: null,
      missedBelowHz: null,
      humHz: [],
      peakDbfs: -12,
      snrDb: { frequencyHz: [20], db: [50] },
      clockPpm: null,
      clockUncertaintyPpm: null,
    });
    return {
      impulse: makeRecording(writeWav({ sampleRateHz: 1000, channels: [[1, 0]] }), { role: 'impulse' }),
      response: makeCurve(response),
      harmonics: [makeCurve({ ...harmonic, levelDb, noiseDb: frequencyHz.map(() => -80) })],
      thd: { frequencyHz: [], percent: [] },
      delayMs: 0,
      delayUncertaintyMs: 0.05,
      quality,
    };
  });
}

const oddOnes = (found: Deconvolution[]) =>
  compareNeighbours(found).flatMap(({ quality }, i) =>
    quality.warnings.map(({ code, values }) => [i, code, values.what, quality.verdict]),
  );
const near = (hz: number) => Math.abs(Math.log2(hz / 50)) < 0.25;

test('runs of a clean ladder are alike, compressed or not', () => {
  for (let seed = 0; seed < 20; seed++) expect(oddOnes(ladder(-1, {}, `seed ${seed}`))).toEqual([]);
});

test.each([0, 2, 3, 5])('the run during which a door slammed is named: rung %i', (odd) => {
  const slam = ladder(odd, { noise: (hz) => (near(hz) ? 25 : 0) });
  expect(oddOnes(slam)).toEqual([[odd, 'capture-unlike-neighbours', 'noise', 'doubtful']]);
});

test('so is one whose level or distortion no neighbour bears out', () => {
  expect(oddOnes(ladder(2, { level: (hz) => (near(hz) ? 9 : 0) }))).toEqual([
    [2, 'capture-unlike-neighbours', 'level', 'doubtful'],
  ]);
  expect(oddOnes(ladder(1, { thd: (hz) => (near(hz) ? 30 : 0) }))).toEqual([
    [1, 'capture-unlike-neighbours', 'distortion', 'doubtful'],
  ]);
});
