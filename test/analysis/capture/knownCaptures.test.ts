import { describe, expect, it } from 'vitest';
import { deconvolveCapture } from '../../../lib/analysis/deconvolution/deconvolveCapture';
import { randomFrom } from '../../../lib/rig/random';
import { makeSweep } from '../../../lib/signal/makeSweep';
import { decodeWav } from '../../../lib/wav/decodeWav';
import { makeRecording } from '../../../lib/wav/makeRecording';
import { writeWav } from '../../../lib/wav/writeWav';

// Known by construction: a wire with noise, and hum 20 dB under the sweep.

const RATE = 8000;

function recorded(samples: Float64Array, label: string, sampleRateHz = RATE) {
  return makeRecording(writeWav({ sampleRateHz, channels: [samples] }, { format: 'float32' }), { label });
}

/** A capture that ends so long after the sweep; the stimulus has 3 s of silence there. */
function capture(seconds: number, tailS: number, humDb?: number) {
  const stimulus = makeSweep({ startHz: 5, endHz: 400, seconds, sampleRateHz: RATE, levelDbfs: -12 });
  const played = decodeWav(stimulus).channels[0];
  const random = randomFrom([seconds, tailS, 'hum in captures']);
  const amplitude = humDb === undefined ? 0 : 10 ** (humDb / 20);
  const samples = Float64Array.from({ length: Math.round(played.length + (tailS - 3) * RATE) }, (_, n) => {
    const hum = amplitude * Math.sin((2 * Math.PI * 50.03 * n) / RATE + 1);
    return (played[n] ?? 0) + hum + 1e-4 * random.normal();
  });
  return { stimulus, samples };
}

describe('hum 20 dB under the sweep', () => {
  it.each([3, 8, 20].flatMap((seconds) => [0.3, 1, 2].map((tailS) => ({ seconds, tailS }))))(
    'is found at its level and taken out: a sweep of $seconds s, $tailS s of silence after it',
    ({ seconds, tailS }) => {
      const { stimulus, samples } = capture(seconds, tailS, -32);
      const { quality, response } = deconvolveCapture(recorded(samples, 'hum'), stimulus, { harmonics: 1 });
      expect(quality.humHz).toHaveLength(1);
      expect(Math.abs(quality.humHz[0].levelDb + 32)).toBeLessThan(1);
      expect(quality.verdict).toBe('good');
      expect(quality.warnings.map(({ code }) => code)).toEqual(['capture-hum']);
      response.frequencyHz.forEach((hz, i) => {
        if (hz > 10 && hz < 300) expect(Math.abs(response.levelDb[i] + 12)).toBeLessThan(0.5);
      });
    },
  );

  it('is taken out of the noise run too', () => {
    const { stimulus, samples } = capture(8, 2, -32);
    const random = randomFrom(['noise run']);
    const silence = Float64Array.from({ length: 12 * RATE }, (_, n) => {
      return 10 ** (-32 / 20) * Math.sin((2 * Math.PI * 50.03 * n) / RATE + 2) + 1e-4 * random.normal();
    });
    const noise = recorded(silence, 'noise');
    const { quality } = deconvolveCapture(recorded(samples, 'hum'), stimulus, { harmonics: 1, noise });
    expect(quality.warnings.map(({ code, severity }) => [code, severity])).toEqual([['capture-hum', 'remark']]);
    expect(Math.min(...quality.snrDb.db)).toBeGreaterThan(40);
  });

  it('is said to stay where it cannot be followed: a device that is switched on during the sweep', () => {
    const { stimulus, samples } = capture(8, 3);
    const late = samples.map((x, n) => {
      return n < 5 * RATE ? x : x + 10 ** (-26 / 20) * Math.sin((2 * Math.PI * 50 * n) / RATE);
    });
    const { quality } = deconvolveCapture(recorded(late, 'late'), stimulus, { harmonics: 1 });
    expect(quality.verdict).toBe('doubtful');
    const stays = quality.warnings.find(({ code }) => code === 'capture-hum-stays');
    expect(stays).toMatchObject({ severity: 'doubt', values: { lines: 1 } });
    const [low, high] = stays?.where?.rangesHz?.[0] ?? [];
    expect(low).toBeLessThan(50);
    expect(high).toBeGreaterThan(50);
  });

  it('is not found in captures without', () => {
    for (const [seconds, tailS] of [
      [3, 1],
      [8, 1],
      [20, 1],
      [20, 2],
      [20, 3],
    ]) {
      const { stimulus, samples } = capture(seconds, tailS);
      expect(deconvolveCapture(recorded(samples, 'clean'), stimulus, { harmonics: 1 }).quality).toMatchObject({
        verdict: 'good',
        warnings: [],
      });
    }
  });
});

describe('a sample rate told wrongly', () => {
  it.each([3, 8, 20].flatMap((seconds) => [44100 / 48000, 48000 / 44100].map((ratio) => ({ seconds, ratio }))))(
    'is refused or bad: $ratio times the true one, a sweep of $seconds s',
    ({ seconds, ratio }) => {
      const { stimulus, samples } = capture(seconds, 2);
      let judged: string;
      try {
        judged = deconvolveCapture(recorded(samples, 'mislabelled', Math.round(RATE * ratio)), stimulus).quality
          .verdict;
      } catch (refusal) {
        judged = (refusal as { code: string }).code;
      }
      expect(['bad', 'wrong-sweep', 'no-sweep-found']).toContain(judged);
    },
  );
});
