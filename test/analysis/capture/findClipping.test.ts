import { describe, expect, it } from 'vitest';
import { findClipping } from '../../../lib/analysis/capture/findClipping';
import { type Random, randomFrom } from '../../../lib/rig/random';
import { drawSoundRig } from '../../../lib/rig/sound/drawSoundRig';
import { playRig } from '../../../lib/rig/sound/playRig';
import type { RecorderSpec } from '../../../lib/rig/sound/soundRigSpec';
import { makeSweep } from '../../../lib/signal/makeSweep';
import { decodeWav } from '../../../lib/wav/decodeWav';

// What is checked against is known by construction: samples are cut at a known rail, then requantised.

const FORMATS = [16, 24, 'float'] as const;
type Format = (typeof FORMATS)[number];

function written(samples: Float64Array, format: Format): Float32Array {
  if (format === 'float') return Float32Array.from(samples);
  const full = 2 ** (format - 1);
  return Float32Array.from(samples, (x) => Math.max(-full, Math.min(full - 1, Math.round(x * full))) / full);
}

/** A sweep from 5 to 400 Hz between silences whose level goes up and down over frequency, as in a room; peak 1. */
function captured(random: Random, rate: number, noise: number): Float64Array {
  const seconds = 2;
  const swept = 1.5;
  const rateS = swept / Math.log(80);
  const peaks = Array.from({ length: 3 }, () => ({ hz: 8 * 40 ** random.uniform(), q: random.between(2, 8) }));
  const out = Float64Array.from({ length: seconds * rate }, (_, n) => {
    const t = n / rate - 0.3;
    if (t < 0 || t > swept) return 0;
    const hz = 5 * Math.exp(t / rateS);
    const gain = peaks.reduce((sum, { hz: at, q }) => sum + q / (1 + (q * (hz / at - at / hz)) ** 2), 1);
    return gain * Math.min(1, 5 * t, 20 * (swept - t)) * Math.sin(2 * Math.PI * 5 * rateS * (Math.exp(t / rateS) - 1));
  });
  const peak = out.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
  return out.map((x) => x / peak + noise * random.normal());
}

/** Cuts a share of the samples; the rails lie between two samples, so that none reaches one just so. */
function cut(samples: Float64Array, share: number, lopsided: number) {
  const sorted = Float64Array.from(samples, Math.abs).sort();
  const at = Math.round(samples.length * (1 - share));
  const high = (sorted[at] + sorted[at - 1]) / 2;
  const low = -high * lopsided;
  const isCut = (x: number) => x > high || x < low;
  const gain = 1 / Math.max(high, -low);
  const out = samples.map((x) => Math.max(low, Math.min(high, x)) * gain);
  return { out, cut: samples.reduce((sum, x) => sum + (isCut(x) ? 1 : 0), 0), first: samples.findIndex(isCut), isCut };
}

describe('a recording that clipped', () => {
  it.each(FORMATS.flatMap((format) => [8000, 48000, 96000].map((rate) => ({ format, rate }))))(
    'has its clipped samples counted exactly: $format, $rate Hz',
    ({ format, rate }) => {
      for (let seed = 0; seed < 3; seed++) {
        const random = randomFrom([seed, 'clipped', rate, String(format)]);
        const noise = random.pick([0, 1e-4, 1e-3]);
        const samples = captured(random, rate, noise);
        const share = 10 ** random.between(-2.3, -0.3);
        const clipped = cut(samples, share, random.pick([1, 1, 0.8, 1.25]));
        const attenuation = 10 ** (random.pick([0, 0, -3, -12.3, -30]) / 20);
        // what the converter gave is made quieter and written once more
        const file = written(
          Float64Array.from(written(clipped.out, format === 'float' ? 24 : format), (x) => x * attenuation),
          format,
        );
        const found = findClipping(file);
        // in few steps, samples that came near the rail are rounded to it, and nothing tells them from cut ones
        const rails = new Set(file.filter((_, n) => clipped.isCut(samples[n])));
        const alike = file.reduce((sum, x) => sum + (rails.has(x) ? 1 : 0), 0);
        expect(found.samples, `seed ${seed}`).toBe(alike);
        if (format !== 16 && attenuation === 1) {
          expect(Math.abs(found.samples - clipped.cut)).toBeLessThanOrEqual(0.001 * clipped.cut);
        }
        expect(found.atIndex).toBeLessThanOrEqual(clipped.first);
        expect(file[found.atIndex!]).toBe(file[clipped.first]);
        expect(found.railDbfs).toBeCloseTo(20 * Math.log10(Math.abs(file[clipped.first])), 9);
      }
    },
  );

  it('is seen beyond full scale in a float file, in one polarity alone, and with single samples cut in noise', () => {
    const random = randomFrom(['beyond']);
    const sine = Float64Array.from({ length: 48000 }, (_, n) => 3 * Math.sin(n / 300) + 0.1 * random.normal());
    const above = findClipping(sine.map((x) => Math.min(x, 2.5)));
    expect(above.samples).toBe(sine.filter((x) => x >= 2.5).length);
    expect(above.railDbfs).toBeCloseTo(20 * Math.log10(2.5), 9);
    const few = sine.filter((x) => x > 3.2).length;
    expect(few).toBeGreaterThan(20);
    const rare = sine.map((x) => Math.min(x, 3.2) / 3.2);
    expect(findClipping(rare)).toMatchObject({ samples: few, railDbfs: 0 });
  });

  it('is counted where dither makes the rail toggle', () => {
    const random = randomFrom(['dither']);
    const samples = Float64Array.from({ length: 96000 }, (_, n) => Math.max(-0.7, Math.min(0.7, Math.sin(n / 400))));
    const dithered = Float64Array.from(samples, (x) => {
      const steps = x * 0.4 * 32768 + random.uniform() - random.uniform();
      return Math.round(steps) / 32768;
    });
    const cutSamples = samples.filter((x) => Math.abs(x) === 0.7).length;
    expect(Math.abs(findClipping(dithered).samples - cutSamples) / cutSamples).toBeLessThan(0.001);
  });

  it('is seen of a tone with a whole number of samples a cycle', () => {
    const tone = Float64Array.from({ length: 4800 }, (_, n) =>
      Math.max(-0.5, Math.min(0.5, Math.sin((2 * Math.PI * n) / 48))),
    );
    // 30 degrees on either side of a crest are above one half: 33 of 48 samples a cycle, ends included
    expect(findClipping(tone).samples).toBe(tone.filter((x) => Math.abs(x) === 0.5).length);
  });
});

describe('what the virtual rig records', () => {
  it.each([
    { seed: 3, bits: 24 as const, overDb: 0.1, attenuationDb: 0 },
    { seed: 10, bits: 24 as const, overDb: 6, attenuationDb: 20 },
    { seed: 15, bits: 16 as const, overDb: 0.5, attenuationDb: 0 },
    { seed: 19, bits: 32 as const, overDb: 15, attenuationDb: 10 },
  ])(
    'has as many clipped samples as the rig clipped: $overDb dB over, $bits bits',
    ({ seed, bits, overDb, attenuationDb }) => {
      const rig = drawSoundRig(seed);
      const sweep = makeSweep({ startHz: 5, endHz: 400, seconds: 3, sampleRateHz: 48000 });
      const play = (recorder: RecorderSpec) =>
        playRig({ ...rig, recorder: { ...rig.recorder, ...recorder } }, sweep, {
          setting: rig.settings[0].name,
          driveDb: 6,
        });
      const peak = Array.from(decodeWav(play({}).capture).channels[0], Math.abs).reduce((a, b) => Math.max(a, b));
      const { capture, truth } = play({ bits, attenuationDb, inputGainDb: overDb - 20 * Math.log10(peak) });
      expect(truth.clippedSamples).toBeGreaterThan(4);
      const { samples, atIndex } = findClipping(decodeWav(capture).channels[0]);
      expect({ samples, atIndex }).toEqual({ samples: truth.clippedSamples, atIndex: truth.clippedAtIndex });
    },
  );
});

describe('a recording that did not clip', () => {
  const sines = [1, 0.99997, 0.5, 0.0031].flatMap((level) =>
    [5, 7.3, 20, 48.1, 250, 400, 1000].map((hz) => ({ level, hz })),
  );

  it('has none: sines of any level, frequency, sample rate and format', () => {
    for (const { level, hz } of sines) {
      for (const rate of [8000, 48000, 96000]) {
        for (const phase of [1.1, Math.PI / 2]) {
          const sine = Float64Array.from(
            { length: rate / 4 },
            (_, n) => level * Math.sin((2 * Math.PI * hz * n) / rate + phase),
          );
          for (const format of FORMATS) {
            expect(findClipping(written(sine, format)).samples, `${level} ${hz} ${rate} ${format}`).toBe(0);
          }
          expect(findClipping(sine).samples, `${level} ${hz} ${rate}`).toBe(0);
        }
      }
    }
  });

  it('has none: sweeps, noise and rumble, up to full scale', () => {
    for (let seed = 0; seed < 20; seed++) {
      const random = randomFrom([seed, 'clean']);
      const rate = random.pick([8000, 48000]);
      const level = random.pick([0.999, 0.3, 0.01, 0.002]);
      let slow = 0;
      const kinds = {
        sweep: () => captured(random, rate, 0),
        noise: () => Float64Array.from({ length: rate }, () => random.normal()),
        rumble: () => Float64Array.from({ length: rate }, () => (slow += 0.002 * (random.normal() - slow))),
      };
      for (const [kind, make] of Object.entries(kinds)) {
        const samples = make();
        const peak = samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
        const file = written(
          samples.map((x) => (x * level) / peak),
          random.pick(FORMATS),
        );
        expect(findClipping(file).samples, `${kind} ${seed}`).toBe(0);
      }
    }
  });

  it('has none: silence, an offset, next to silence, a square wave, one full sample, nothing at all', () => {
    const random = randomFrom(['quiet']);
    const of = (make: (n: number) => number) => Float64Array.from({ length: 20000 }, (_, n) => make(n));
    const none = { samples: 0, atIndex: null, railDbfs: null };
    expect(findClipping(of(() => 0))).toEqual(none);
    expect(findClipping(of(() => 0.01))).toEqual(none);
    expect(
      findClipping(
        written(
          of(() => 0.7 / 32768 + random.normal() * 3e-6),
          16,
        ),
      ),
    ).toEqual(none);
    expect(findClipping(of((n) => (n % 100 < 50 ? 0.8 : -0.8)))).toEqual(none);
    expect(
      findClipping(
        written(
          of((n) => (n % 100 < 50 ? 0.8 : -0.8) + random.normal() * 2e-5),
          16,
        ),
      ),
    ).toEqual(none);
    expect(findClipping(of((n) => (n === 77 ? 1 : random.normal() / 9)))).toEqual(none);
    expect(findClipping(new Float32Array(0))).toEqual(none);
  });
});
