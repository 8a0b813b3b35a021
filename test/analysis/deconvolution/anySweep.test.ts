import { describe, expect, it } from 'vitest';
import { type DeconvolveOptions, deconvolveCapture } from '../../../lib/analysis/deconvolution/deconvolveCapture';
import type { Recording } from '../../../lib/model/curve';
import { makeSweep } from '../../../lib/signal/makeSweep';
import { DEFAULT_LEVEL_DBFS } from '../../../lib/signal/sweepPlan';
import { decodeWav } from '../../../lib/wav/decodeWav';
import { makeRecording } from '../../../lib/wav/makeRecording';
import { writeWav } from '../../../lib/wav/writeWav';
import { delayOf, type Simulated, simulateCapture, toneThrough } from './simulatedCapture';

const unit: Simulated = {
  after: [
    { kind: 'high-pass', hz: 24 },
    { kind: 'low-pass', hz: 180 },
  ],
  coefficients: [0.1, -0.2, 0.05, 0.1],
  delayMs: 23,
  noise: 3e-5,
};

interface Sweep {
  startHz: number;
  endHz: number;
  seconds: number;
  sampleRateHz: number;
}

/** An exponential sweep as others make them: not synchronised, any silence, short fades, 24 bits, no word about it. */
function foreignSweep({ startHz, endHz, seconds, sampleRateHz }: Sweep): Recording {
  const rate = seconds / Math.log(endHz / startHz);
  const [lead, tail] = [0.7, 2.5].map((s) => Math.round(s * sampleRateHz));
  const count = Math.round(seconds * sampleRateHz);
  const samples = new Float64Array(lead + count + tail);
  const [rise, fall] = [0.05, 0.01].map((s) => Math.round(s * sampleRateHz));
  for (let n = 0; n < count; n++) {
    const gain =
      Math.sin((Math.PI / 2) * Math.min(1, n / rise)) * Math.sin((Math.PI / 2) * Math.min(1, (count - n) / fall));
    samples[lead + n] =
      0.25 * gain ** 2 * Math.sin(2 * Math.PI * startHz * rate * Math.expm1(n / sampleRateHz / rate) + 0.3);
  }
  return makeRecording(writeWav({ sampleRateHz, channels: [samples] }, { format: 'pcm24' }), {
    role: 'stimulus',
    label: 'foreign',
  });
}

const samplesOf = (recording: Recording) => Float64Array.from(decodeWav(recording).channels[0]);

describe('deconvolution of any sweep', () => {
  it.each<[string, boolean, Sweep]>([
    ['60 s', true, { startHz: 5, endHz: 400, seconds: 60, sampleRateHz: 8000 }],
    ['3 s', true, { startHz: 10, endHz: 400, seconds: 3, sampleRateHz: 48000 }],
    ['8 kHz', true, { startHz: 5, endHz: 400, seconds: 10, sampleRateHz: 8000 }],
    ['10 Hz to 20 kHz, not ours', false, { startHz: 10, endHz: 20000, seconds: 12, sampleRateHz: 48000 }],
    ['20 Hz to 1 kHz, not ours', false, { startHz: 20, endHz: 1000, seconds: 10, sampleRateHz: 44100 }],
  ])('agrees with the closed form of what was played: %s', (_, isOurs, sweep) => {
    const stimulus = isOurs ? makeSweep(sweep) : foreignSweep(sweep);
    const amplitude = isOurs ? 10 ** (DEFAULT_LEVEL_DBFS / 20) : 0.25;
    const rateHz = sweep.sampleRateHz;
    const found = deconvolveCapture(simulateCapture(samplesOf(stimulus), rateHz, unit), stimulus);
    const { frequencyHz, levelDb } = found.response;
    expect(frequencyHz[0]).toBeLessThan(sweep.startHz * 1.1);
    expect(frequencyHz.at(-1)).toBeGreaterThan(Math.min(sweep.endHz, 500) * 0.95);
    frequencyHz.forEach((hz, i) => {
      if (hz < Math.max(12, sweep.startHz * 1.1)) return;
      const error = Math.abs(levelDb[i] - toneThrough(unit, amplitude, hz, rateHz).levelDb);
      expect(error, `${hz} Hz`).toBeLessThan(0.2);
    });
    expect(Math.abs(found.delayMs - delayOf(unit, rateHz))).toBeLessThan(0.1);
    // a short sweep leaves its orders no room to ring apart where they lie above its end
    const thdToHz = sweep.seconds < 5 ? 80 : 250;
    let counted = 0;
    found.thd.frequencyHz.forEach((hz, i) => {
      if (hz < Math.max(16, sweep.startHz * 1.5) || hz > thdToHz) return;
      const { thdDb } = toneThrough(unit, amplitude, hz, rateHz);
      const noise = found.harmonics.reduce((sum, h) => sum + 10 ** (h.noiseDb![i] / 10), 0);
      const snr = thdDb - 10 * Math.log10(noise);
      if (snr < 20) return;
      counted++;
      const error = Math.abs(20 * Math.log10(found.thd.percent[i] / 100) - thdDb);
      expect(error, `THD at ${hz} Hz, ${snr.toFixed(0)} dB`).toBeLessThan(0.3 + 4 * 6.15 * 10 ** (-snr / 20));
    });
    expect(counted).toBeGreaterThan(20);
  });

  it('gives the answer of the full rate at the lowered rate, within 0.01 dB from 5 to 500 Hz', () => {
    const sampleRateHz = 48000;
    const stimulus = makeSweep({ startHz: 4, endHz: 600, seconds: 8, sampleRateHz });
    const capture = simulateCapture(samplesOf(stimulus), sampleRateHz, { ...unit, noise: 1e-6 });
    for (const harmonics of [1, 5]) {
      const low = deconvolveCapture(capture, stimulus, { harmonics, toHz: 560 }).response;
      // `isFullRate` is no option but for this
      const full = { harmonics, toHz: 560, isFullRate: true } as DeconvolveOptions;
      const whole = deconvolveCapture(capture, stimulus, full).response;
      let [worst, count] = [0, 0];
      low.frequencyHz.forEach((hz, i) => {
        if (hz < 5 || hz > 500) return;
        expect(whole.frequencyHz[i]).toBeCloseTo(hz, 9);
        worst = Math.max(worst, Math.abs(low.levelDb[i] - whole.levelDb[i]));
        count++;
      });
      expect(count).toBeGreaterThan(600);
      expect(worst, `${harmonics} harmonics`).toBeLessThan(0.01);
    }
  });
});
