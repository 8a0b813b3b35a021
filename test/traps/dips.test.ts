import { describe, expect, it } from 'vitest';
import { makeRecording, makeSweep, writeWav } from '../../lib';
import { deconvolveCapture } from '../../lib/analysis/deconvolution/deconvolveCapture';
import { decodeWav } from '../../lib/wav/decodeWav';
import { randomOf } from './simulatedSession';

const RATE = 2000;
const SEEDS = 8;
/** What levels are good to without any noise, dB. */
const FINEST_DB = 0.02;
/** Depth, Q and place of the dips: from 12 to 26 dB deep, a seventh of an octave to a twentieth wide. */
const DIPS = [
  [-12, 10, 31],
  [-20, 10, 47],
  [-26, 25, 73],
];

/** A dip of known shape: the peaking section of the audio cookbook (Bristow-Johnson, from memory), and its level. */
function cut(x: Float64Array, [db, q, hz]: number[]): { y: Float64Array; levelDb: (hz: number) => number } {
  const a = 10 ** (db / 40);
  const w = (2 * Math.PI * hz) / RATE;
  const alpha = Math.sin(w) / (2 * q);
  const a0 = 1 + alpha / a;
  const middle = (-2 * Math.cos(w)) / a0;
  const [b0, b2, a2] = [(1 + alpha * a) / a0, (1 - alpha * a) / a0, (1 - alpha / a) / a0];
  const y = new Float64Array(x.length);
  for (let n = 0; n < x.length; n++) {
    y[n] = b0 * x[n] + middle * ((x[n - 1] ?? 0) - (y[n - 1] ?? 0)) + b2 * (x[n - 2] ?? 0) - a2 * (y[n - 2] ?? 0);
  }
  const power = (c0: number, c2: number, f: number) => {
    const k = (2 * Math.PI * f) / RATE;
    const re = c0 + middle * Math.cos(k) + c2 * Math.cos(2 * k);
    const im = -middle * Math.sin(k) - c2 * Math.sin(2 * k);
    return re * re + im * im;
  };
  return { y, levelDb: (f) => 10 * Math.log10(power(b0, b2, f) / power(1, a2, f)) };
}

describe('levels in narrow dips', () => {
  const levelDbfs = -15;
  const stimulus = makeSweep({ startHz: 5, endHz: 300, seconds: 8, sampleRateHz: RATE, levelDbfs });
  let clean = Float64Array.from(decodeWav(stimulus).channels[0]);
  const shapes = DIPS.map((dip) => {
    const { y, levelDb } = cut(clean, dip);
    clean = y as Float64Array<ArrayBuffer>;
    return levelDb;
  });
  const truthDb = (hz: number) => levelDbfs + shapes.reduce((sum, levelDb) => sum + levelDb(hz), 0);
  const powerOf = (x: Float64Array) => x.reduce((sum, v) => sum + v * v, 0) / x.length;

  /** In white noise, so many dB below the capture as a whole. */
  function measured(snrDb: number, seed: number) {
    const random = randomOf(1000 * seed + snrDb);
    const gain = Math.sqrt(powerOf(clean)) * 10 ** (-snrDb / 20);
    const noisy = clean.map((v) => v + gain * Math.sqrt(-2 * Math.log(random())) * Math.cos(2 * Math.PI * random()));
    const wav = writeWav({ sampleRateHz: RATE, channels: [noisy] }, { format: 'float32' });
    return deconvolveCapture(makeRecording(wav, { label: 'quiet run' }), stimulus, { harmonics: 1 }).response;
  }

  it.each([10, 20, 30])(
    'are off by no more than the curve’s own noise allows: a run %i dB above its noise',
    (snrDb) => {
      const offs: number[] = [];
      const bottoms = DIPS.map(() => ({ errorDb: 0, sigmaDb: 0, bins: 0 }));
      for (let seed = 1; seed <= SEEDS; seed++) {
        const { frequencyHz, levelDb, noiseDb } = measured(snrDb, seed);
        for (const [k, [, q, hz]] of DIPS.entries()) {
          for (const [i, f] of frequencyHz.entries()) {
            const signalToNoiseDb = truthDb(f) - noiseDb![i];
            // what stands less than 10 dB above the noise is marked, and not to be trusted
            if (Math.abs(f / hz - 1) > 0.5 / q || signalToNoiseDb < 10) continue;
            const errorDb = levelDb[i] - truthDb(f);
            // a random phasor beside the signal: half of its power moves the level, the other half turns the phase
            const sigmaDb = (20 / Math.LN10 / Math.SQRT2) * 10 ** (-signalToNoiseDb / 20);
            offs.push(errorDb / (sigmaDb + FINEST_DB));
            if (Math.abs(f / hz - 1) > 0.1 / q) continue;
            bottoms[k].errorDb += errorDb;
            bottoms[k].sigmaDb += sigmaDb;
            bottoms[k].bins++;
          }
        }
      }
      const rms = Math.sqrt(offs.reduce((sum, z) => sum + z * z, 0) / offs.length);
      expect(offs.length).toBeGreaterThan(100);
      expect(rms).toBeLessThan(1.25);
      expect(offs.filter((z) => Math.abs(z) > 3).length).toBeLessThan(0.04 * offs.length);
      // no bias at the bottom: neighbouring bins of a run share their noise, runs do not
      for (const { errorDb, sigmaDb, bins } of bottoms) {
        if (bins > 0) expect(Math.abs(errorDb / bins)).toBeLessThan(0.05 + (3 * sigmaDb) / bins / Math.sqrt(SEEDS));
      }
    },
  );
});
