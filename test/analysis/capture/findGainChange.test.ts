import { describe, expect, it } from 'vitest';
import { findGainChange } from '../../../lib/analysis/capture/findGainChange';
import { deconvolveCapture } from '../../../lib/analysis/deconvolution/deconvolveCapture';
import { randomFrom } from '../../../lib/rig/random';
import { makeSweep } from '../../../lib/signal/makeSweep';
import { decodeWav } from '../../../lib/wav/decodeWav';
import { makeRecording } from '../../../lib/wav/makeRecording';
import { writeWav } from '../../../lib/wav/writeWav';

const RATE = 8000;

/** A wire with noise, and a recorder that turns itself down by up to so much (dB) and up again by so much a second. */
function capture(seconds: number, tailS: number, mostDb: number, releaseDbPerS: number) {
  const stimulus = makeSweep({ startHz: 5, endHz: 400, seconds, sampleRateHz: RATE });
  const played = decodeWav(stimulus).channels[0];
  const random = randomFrom(['automatic gain', seconds, tailS, mostDb]);
  let [gainDb, envelope] = [0, 0];
  const samples = Float64Array.from({ length: played.length + (tailS - 3) * RATE }, (_, n) => {
    const x = played[n] + 1e-4 * random.normal();
    // the sweep's amplitude is a quarter
    envelope = Math.max(Math.abs(x), envelope * (1 - 1 / (0.1 * RATE)));
    const wantedDb = Math.max(0, 20 * Math.log10(envelope / 0.25) + mostDb);
    gainDb =
      wantedDb > gainDb
        ? gainDb + (wantedDb - gainDb) / (0.02 * RATE)
        : Math.max(wantedDb, gainDb - releaseDbPerS / RATE);
    return x * 10 ** (-gainDb / 20);
  });
  const wav = writeWav({ sampleRateHz: RATE, channels: [samples] }, { format: 'pcm24' });
  const { quality } = deconvolveCapture(makeRecording(wav, { label: 'take' }), stimulus);
  return quality;
}

describe('automatic gain', () => {
  it.each([
    { seconds: 3, tailS: 1 },
    { seconds: 8, tailS: 2 },
    { seconds: 20, tailS: 3 },
  ])('is seen in the noise that comes back after a sweep of $seconds s, in $tailS s', ({ seconds, tailS }) => {
    const { verdict, warnings } = capture(seconds, tailS, 16, 12);
    expect(verdict).toBe('doubtful');
    const found = warnings.find(({ code }) => code === 'capture-gain-follows');
    expect(found?.severity).toBe('doubt');
    expect(found?.values.dropDb).toBeGreaterThan(9);
    expect(found?.values.dropDb).toBeLessThan(17);
  });

  it('is not seen in a capture without', () => {
    for (const tailS of [1, 2, 3]) {
      expect(capture(5, tailS, 0, 12).warnings.map(({ code }) => code)).toEqual([]);
    }
  });

  it('is not what noise that wanders is called, nor noise that rises or ends after the sweep', () => {
    const called = (gainDb: (seconds: number) => number, seed: number) => {
      const random = randomFrom(['noise', seed]);
      const samples = Float64Array.from(
        { length: 9 * 4000 },
        (_, n) => 10 ** (gainDb(n / 4000) / 20) * random.normal(),
      );
      return findGainChange(samples, 4000, [480, 1600], 1, 6) !== undefined;
    };
    let wandering = 0;
    for (let seed = 0; seed < 40; seed++) {
      const random = randomFrom(['wander', seed]);
      const phases = Array.from({ length: 6 }, () => 2 * Math.PI * random.uniform());
      // six slow waves, 0.1 to 3 Hz, together 1 dB (standard deviation)
      const wander = (s: number) =>
        phases.reduce((sum, phase, i) => sum + 0.58 * Math.sin(phase + 2 * Math.PI * 0.1 * 2 ** i * s), 0);
      if (called(wander, seed)) wandering++;
    }
    expect(wandering).toBe(0);
    expect(called((s) => (s < 7 ? 0 : 10), 1)).toBe(false); // somebody moves
    expect(called((s) => (s < 5 ? 0 : -10), 2)).toBe(false); // a fan stops
    expect(called((s) => (s < 0.6 && s > 0.5 ? 30 : 0), 3)).toBe(false); // a click ahead of the sweep
  });
});
