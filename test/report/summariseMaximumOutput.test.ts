import { expect, test } from 'vitest';
import type { MaximumOutput } from '../../lib/model/findings';
import { summariseMaximumOutput } from '../../lib/report/summariseMaximumOutput';
import { SUMMARY_LENGTH } from '../../lib/report/summary';
import { sampleOutput } from './sampleSound';

const output = (change: Partial<MaximumOutput> = {}): MaximumOutput => ({ ...sampleOutput('a', 'b'), ...change });
const [low, upper] = output().averages;
const louder = { ...upper, peakAt1mDb: 116.74 };
const silent = output().centres.map((centre) => ({
  ...centre,
  levelAtMicrophoneDb: null,
  peakAt1mDb: null,
}));

test.each([
  [[], 'nothing found'],
  [[output()], '20-100 Hz: upper bass \u2265 112.1 dB'],
  [
    [output({ averages: [low, { ...upper, levelAtMicrophoneDb: null, peakAt1mDb: null }] })],
    '20-100 Hz: low bass 104.0 dB',
  ],
  [[output({ averages: [] })], '20-100 Hz: \u2265 117.3 dB at 100 Hz'],
  [[output({ averages: [low, louder] }), output()], 'upper bass \u2265 116.7 dB'],
  [[output({ averages: [] }), output({ averages: [] })], '2 settings: \u2265 117.3 dB at 100 Hz'],
  [[output({ averages: [{ ...upper, name: 'the upper bass' }] })], 'the upper bass \u2265 112.1 dB'],
  [[output({ averages: [], centres: silent })], 'no burst passed'],
])('a summary of maximum output is short: %#', (found, wanted) => {
  expect(summariseMaximumOutput(found)).toBe(wanted);
  expect(wanted.length).toBeLessThanOrEqual(SUMMARY_LENGTH);
});
