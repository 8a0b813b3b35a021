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

describe('a header with another sample rate', () => {
  const coarse = [3, 5, 8, 20].flatMap((seconds) => {
    return [0.5, 2, 44_100 / 48_000, 48_000 / 44_100].map((ratio) => ({ seconds, ratio }));
  });
  it.each([...coarse, { seconds: 20, ratio: 0.98 }, { seconds: 20, ratio: 1.02 }])(
    'is refused, or called a wrong rate: $ratio times, a sweep of $seconds s',
    ({ seconds, ratio }) => {
      const said = judge(take(seconds, RATE * ratio));
      const isFound = ['capture-rate-mislabelled', 'wrong-sweep', 'no-sweep-found'].some((code) => said.includes(code));
      expect(isFound).toBe(true);
    },
  );

  it.each([3, 5, 8, 20])('is not what a recording that broke off has: a sweep of %s s', (seconds) => {
    for (const share of [0.3, 0.6, 0.85]) {
      expect(judge(take(seconds, RATE, 1 + share * seconds))).not.toContain('capture-rate-mislabelled');
    }
  });
});
