import { describe, expect, it } from 'vitest';
import { deconvolveCapture } from '../../../lib/analysis/deconvolution/deconvolveCapture';
import { randomFrom } from '../../../lib/rig/random';
import { makeSweep } from '../../../lib/signal/makeSweep';
import { decodeWav } from '../../../lib/wav/decodeWav';
import { makeRecording } from '../../../lib/wav/makeRecording';
import { writeWav } from '../../../lib/wav/writeWav';

const RATE = 8000;

/** A sweep through a room of echoes that decay over half a second, in noise; its header may state another rate. */
function take(seconds: number, statedHz: number, until = Number.POSITIVE_INFINITY) {
  const stimulus = makeSweep({ startHz: 5, endHz: 400, seconds, sampleRateHz: RATE });
  const played = decodeWav(stimulus).channels[0];
  const random = randomFrom(['other header', seconds]);
  const echoes = Array.from({ length: 40 }, (_, i) => ({
    late: Math.round(RATE * (0.003 + 0.5 * random.uniform())),
    gain: i === 0 ? 1 : 0.35 * random.normal(),
  })).map(({ late, gain }) => ({ late, gain: gain * Math.exp((-4 * late) / RATE) }));
  const samples = Float64Array.from({ length: played.length }, () => 3e-5 * random.normal());
  for (const { late, gain } of echoes) {
    for (let n = late; n < samples.length; n++) samples[n] += 0.3 * gain * played[n - late];
  }
  const held = samples.slice(0, Math.min(samples.length, until * RATE));
  const wav = writeWav({ sampleRateHz: Math.round(statedHz), channels: [held] }, { format: 'float32' });
  return { stimulus, capture: makeRecording(wav, { label: 'take' }) };
}

function judge({ stimulus, capture }: ReturnType<typeof take>): string[] {
  try {
    const { warnings } = deconvolveCapture(capture, stimulus, { harmonics: 1 }).quality;
    return warnings.filter(({ severity }) => severity !== 'remark').map(({ code }) => code);
  } catch (refusal) {
    return [(refusal as { code: string }).code];
  }
}

const REFUSALS = ['capture-rate-mislabelled', 'wrong-sweep', 'no-sweep-found', 'nothing-usable'];

describe('a header with another sample rate', () => {
  const coarse = [2, 3, 5, 8, 20].flatMap((seconds) => {
    return [0.5, 2, 3, 6, 12, 96 / 44.1, 88.2 / 48, 44.1 / 48, 48 / 44.1].map((ratio) => ({ seconds, ratio }));
  });
  it.each([...coarse, { seconds: 20, ratio: 0.98 }, { seconds: 20, ratio: 1.02 }])(
    'is refused, or called a wrong rate: $ratio times, a sweep of $seconds s',
    ({ seconds, ratio }) => {
      const said = judge(take(seconds, RATE * ratio));
      const isFound = REFUSALS.some((code) => said.includes(code));
      expect(isFound).toBe(true);
    },
  );

  it.each([1, 2])(
    'of 2 percent is beyond what a sweep of %s s shows in a room: the clock is not known then',
    (seconds) => {
      for (const ratio of [0.98, 1.02]) {
        const { stimulus, capture } = take(seconds, RATE * ratio);
        const { clockPpm, warnings } = deconvolveCapture(capture, stimulus, { harmonics: 1 }).quality;
        if (!warnings.some(({ code }) => code === 'capture-rate-mislabelled')) expect(clockPpm).toBeNull();
      }
    },
  );

  it.each([1, 3, 5, 8, 20])('is not what a recording that broke off has: a sweep of %s s', (seconds) => {
    for (const share of [0.3, 0.6, 0.85]) {
      expect(judge(take(seconds, RATE, 1 + share * seconds))).not.toContain('capture-rate-mislabelled');
    }
  });
});
