import { describe, expect, it } from 'vitest';
import { deconvolveCapture } from '../../../lib/analysis/deconvolution/deconvolveCapture';
import { randomFrom } from '../../../lib/rig/random';
import { makeSweep } from '../../../lib/signal/makeSweep';
import { decodeWav } from '../../../lib/wav/decodeWav';
import { makeRecording } from '../../../lib/wav/makeRecording';
import { writeWav } from '../../../lib/wav/writeWav';

const RATE = 8000;

describe('noise of a capture', () => {
  it('is what the room holds in silence, at low frequencies too, near which a slow sweep stays for long', () => {
    const stimulus = makeSweep({ startHz: 5, endHz: 400, seconds: 20, sampleRateHz: RATE });
    const played = decodeWav(stimulus).channels[0];
    const random = randomFrom(['quiet noise']);
    const samples = Float64Array.from({ length: played.length + 4 * RATE }, () => 1e-4 * random.normal());
    const silence = Float64Array.from({ length: 20 * RATE }, () => 1e-4 * random.normal());
    for (let i = 0; i < 40; i++) {
      const late = Math.round(120 + 150 * i * (0.85 + 0.3 * random.uniform()));
      const gain = 0.5 * (i % 2 ? -1 : 1) * Math.exp(-i / 9);
      for (let n = late; n < samples.length; n++) samples[n] += gain * (played[n - late] ?? 0);
    }
    const recorded = (sound: Float64Array, label: string) =>
      makeRecording(writeWav({ sampleRateHz: RATE, channels: [sound] }, { format: 'float32' }), { label });
    const capture = recorded(samples, 'take');
    const own = deconvolveCapture(capture, stimulus, { harmonics: 1 }).response;
    const { response } = deconvolveCapture(capture, stimulus, { harmonics: 1, noise: recorded(silence, 'silence') });
    const offs = own.frequencyHz.flatMap((hz, i) => (hz < 20 ? [own.noiseDb![i] - response.noiseDb![i]] : []));
    expect(Math.max(...offs.map(Math.abs))).toBeLessThan(4);
  });
});
