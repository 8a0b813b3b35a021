import { describe, expect, it } from 'vitest';
import { deconvolveCapture } from '../../../lib/analysis/deconvolution/deconvolveCapture';
import { randomFrom } from '../../../lib/rig/random';
import { makeSweep } from '../../../lib/signal/makeSweep';
import { decodeWav } from '../../../lib/wav/decodeWav';
import { makeRecording } from '../../../lib/wav/makeRecording';
import { writeWav } from '../../../lib/wav/writeWav';

const RATE = 8000;
const stimulus = makeSweep({ startHz: 5, endHz: 400, seconds: 5, sampleRateHz: RATE, levelDbfs: -12 });
const played = decodeWav(stimulus).channels[0];

/** Takes of the sweep with their gains, each beginning so many seconds into the recording, and how long it lasts. */
function recorded(takes: { atS: number; gain: number }[], seconds: number) {
  const random = randomFrom(['several sweeps', seconds]);
  const samples = Float64Array.from({ length: seconds * RATE }, () => 1e-4 * random.normal());
  for (const { atS, gain } of takes) {
    const first = Math.round(atS * RATE);
    for (let n = Math.max(0, -first); n < played.length && first + n < samples.length; n++) {
      samples[first + n] += gain * played[n];
    }
  }
  return makeRecording(writeWav({ sampleRateHz: RATE, channels: [samples] }, { format: 'float32' }), {
    label: 'takes',
  });
}

describe('a recording that holds the sweep more than once', () => {
  it.each([
    ['two alike', [0.5, 0.5]],
    ['the second louder', [0.25, 0.9]],
    ['the second 12 dB softer', [0.8, 0.2]],
    ['three', [0.5, 0.5, 0.5]],
  ])('is read at the first one, and says when the next begins: %s', (_, gains) => {
    const takes = gains.map((gain, i) => ({ atS: 0.2 + 9.3 * i, gain }));
    const { response, quality } = deconvolveCapture(recorded(takes, 9.3 * gains.length + 1), stimulus);
    expect(quality.verdict).toBe('doubtful');
    expect(quality.warnings.map(({ code, severity }) => [code, severity])).toEqual([
      ['capture-several-sweeps', 'doubt'],
    ]);
    // the sweep has a second of silence ahead of it
    const [{ values }] = quality.warnings;
    expect(values.usedS).toBeCloseTo(1.2, 1);
    expect(values.otherS).toBeCloseTo(10.5, 1);
    response.frequencyHz.forEach((hz, i) => {
      if (hz > 8 && hz < 350)
        expect(Math.abs(response.levelDb[i] - (20 * Math.log10(gains[0]) - 12))).toBeLessThan(0.2);
    });
  });

  it('is refused where the first one is not whole', () => {
    const takes = [
      { atS: -1.5, gain: 0.5 },
      { atS: 8, gain: 0.5 },
    ];
    expect(() => deconvolveCapture(recorded(takes, 18), stimulus)).toThrow(
      expect.objectContaining({ code: 'several-sweeps' }),
    );
  });

  it('is not what echoes make: a strong one a second later belongs to the room', () => {
    const takes = [
      { atS: 0, gain: 0.5 },
      { atS: 1.1, gain: 0.2 },
    ];
    const { quality } = deconvolveCapture(recorded(takes, 12), stimulus);
    expect(quality.warnings.map(({ code }) => code)).not.toContain('capture-several-sweeps');
  });
});
