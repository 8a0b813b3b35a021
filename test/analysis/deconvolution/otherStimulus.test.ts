import { describe, expect, it } from 'vitest';
import { deconvolveCapture } from '../../../lib/analysis/deconvolution/deconvolveCapture';
import { otherRate } from '../../../lib/analysis/deconvolution/place/otherRate';
import { randomFrom } from '../../../lib/rig/random';
import { makeMutedSweep, makeSweep } from '../../../lib/signal/makeSweep';
import { decodeWav } from '../../../lib/wav/decodeWav';
import { makeRecording } from '../../../lib/wav/makeRecording';
import { writeWav } from '../../../lib/wav/writeWav';

const spec = { startHz: 5, endHz: 400, seconds: 6, sampleRateHz: 8000, levelDbfs: -12 };
const stimulus = makeSweep(spec);

/** A take of some stimulus in quiet noise, half as loud, half a second late. */
function take(played: typeof stimulus, sampleRateHz = 8000, noise = 1e-4) {
  const samples = decodeWav(played).channels[0];
  const random = randomFrom([3]);
  const out = Float64Array.from({ length: samples.length + 8000 }, () => noise * random.normal());
  samples.forEach((sample: number, n: number) => {
    out[n + 4000] += 0.5 * sample;
  });
  return makeRecording(writeWav({ sampleRateHz, channels: [out] }, { format: 'float32' }), { label: 'take' });
}

describe('a capture of another sweep', () => {
  it.each([
    ['of a narrower range', { ...spec, startHz: 20, endHz: 200 }],
    ['that took longer', { ...spec, seconds: 7.5 }],
    ['that was faster', { ...spec, seconds: 5 }],
  ])('%s is refused', (_, other) => {
    expect(() => deconvolveCapture(take(makeSweep(other)), stimulus)).toThrow(
      expect.objectContaining({ code: 'wrong-sweep' }),
    );
  });

  it('is what a header with the wrong sample rate makes of the right one: every frequency would be wrong', () => {
    const mislabelled = take(stimulus, 7350); // as 44.1 is to 48
    expect(() => deconvolveCapture(mislabelled, stimulus)).toThrow(expect.objectContaining({ code: 'wrong-sweep' }));
  });

  it('is not what was played by a recorder of another rate, truly resampled', () => {
    const { quality } = deconvolveCapture(take(makeSweep({ ...spec, sampleRateHz: 11025 }), 11025), stimulus);
    expect(quality.verdict).toBe('good');
  });
});

describe('what is there beside the right sweep', () => {
  const law = spec.seconds / Math.log(spec.endHz / spec.startHz);

  it.each([3, 5])('does not pass for it, arriving when the sweep would were it its harmonic %i', (order) => {
    const samples = decodeWav(stimulus).channels[0];
    const random = randomFrom([order]);
    const length = samples.length + 5 * 8000;
    const out = Float64Array.from({ length }, () => 1e-5 * random.normal());
    for (const [lateS, gain] of [
      [0.5, 0.5],
      [0.5 + law * Math.log(order), 0.05],
    ]) {
      samples.forEach((sample: number, n: number) => {
        out[n + Math.round(8000 * lateS)] += gain * sample;
      });
    }
    const wav = writeWav({ sampleRateHz: 8000, channels: [out] }, { format: 'float32' });
    const { quality } = deconvolveCapture(makeRecording(wav, { label: 'take' }), stimulus, { harmonics: 1 });
    expect(quality.warnings.map(({ code }) => code)).not.toContain('capture-rate-mislabelled');
    expect(quality.verdict).not.toBe('bad');
  });

  it('is not a wrong sample rate where a strong tone fills one band', () => {
    const played = decodeWav(stimulus).channels[0];
    const random = randomFrom(['tone']);
    const out = Float64Array.from(
      { length: played.length + 16_000 },
      (_, n) => 1e-5 * random.normal() + 0.3 * Math.sin((2 * Math.PI * 251.3 * n) / 8000 + 0.3 * Math.sin(n / 3000)),
    );
    played.forEach((sample: number, n: number) => {
      out[n + 4000] += 0.05 * sample;
    });
    const wav = writeWav({ sampleRateHz: 8000, channels: [out] }, { format: 'float32' });
    const { warnings } = deconvolveCapture(makeRecording(wav, { label: 'take' }), stimulus, { harmonics: 1 }).quality;
    expect(warnings.map(({ code }) => code)).not.toContain('capture-rate-mislabelled');
  });
});

describe('silence', () => {
  it('holds no sweep, also where it is digital', () => {
    const silent = makeRecording(writeWav({ sampleRateHz: 8000, channels: [new Float64Array(80000)] }));
    const refusal = expect.objectContaining({ code: 'no-sweep-found' });
    expect(() => deconvolveCapture(silent, stimulus)).toThrow(refusal);
    expect(() => deconvolveCapture(makeMutedSweep(spec), stimulus)).toThrow(refusal);
  });
});

describe('how the bands of a sweep of another rate arrive', () => {
  const bands = Array.from({ length: 12 }, (_, i) => ({ hz: 6 * 2 ** (i / 2), widthHz: 2.5 * 2 ** (i / 2) }));
  it('is later by the difference of the rates times ln f', () => {
    const late = bands.map((band) => ({ ...band, lateS: 0.3 - 0.2 * Math.log(band.hz) }));
    expect(otherRate(late, 1.2)).toBeCloseTo(-0.2, 2);
  });

  it('differs from a late low end, and from harmonics that arrive L ln 2 early', () => {
    const lowLate = bands.map((band) => ({ ...band, lateS: 1.5 / band.hz }));
    expect(otherRate(lowLate, 1.2)).toBeUndefined();
    const harmonics = bands.map((band, i) => ({ ...band, lateS: i > 7 ? -1.2 * Math.LN2 : 0 }));
    expect(otherRate(harmonics, 1.2)).toBeUndefined();
  });
});

describe('zeros at the end of a capture', () => {
  it('are silence where the sweep faded before them: the stimulus is a perfect capture of itself', () => {
    const { response, quality } = deconvolveCapture(stimulus, stimulus);
    expect(quality).toMatchObject({ verdict: 'good', truncatedAtHz: null, warnings: [] });
    expect(response.frequencyHz[response.frequencyHz.length - 1]).toBeGreaterThan(380);
    response.frequencyHz.forEach((hz, i) => {
      if (hz > 6 && hz < 370) expect(Math.abs(response.levelDb[i] + 12)).toBeLessThan(0.1);
    });
  });

  it('are a recording that broke off where the sweep was still going', () => {
    const samples = decodeWav(stimulus).channels[0].slice();
    const rate = Math.round((5 * 6) / Math.log(80)) / 5; // L
    const at = Math.round(8000 * (1 + rate * Math.log(200 / 5)));
    samples.fill(0, at);
    const broken = makeRecording(writeWav({ sampleRateHz: 8000, channels: [samples] }), { label: 'broken' });
    const { truncatedAtHz } = deconvolveCapture(broken, stimulus).quality;
    expect((truncatedAtHz as number) / 200).toBeCloseTo(1, 2);
  });
});

describe('the level by a stimulus that is not an exponential sweep', () => {
  const rateHz = 8000;
  const random = randomFrom(['sounding part']);
  const noise = Float64Array.from({ length: 6 * rateHz }, () => 0.1 * random.normal());
  const linear = Float64Array.from({ length: 6 * rateHz }, (_, n) => {
    const t = n / rateHz;
    return 0.25 * Math.sin(2 * Math.PI * (10 * t + (290 / 12) * t * t));
  });
  const between = (before: number, sound: Float64Array, after: number) =>
    Float64Array.of(...new Float64Array(before * rateHz), ...sound, ...new Float64Array(after * rateHz));
  const wav = (samples: Float64Array) => writeWav({ sampleRateHz: rateHz, channels: [samples] }, { format: 'float32' });
  const recorded = (samples: Float64Array) =>
    makeRecording(
      wav(Float64Array.from({ length: samples.length + 4 * rateHz }, (_, n) => 0.5 * (samples[n - rateHz] ?? 0))),
    );

  it.each([
    ['noise', noise, 20 * Math.log10(0.1 * Math.SQRT2), 1.5],
    ['a linear sweep', linear, 20 * Math.log10(0.25), 0.2],
  ])('is that of the sound alone: %s', (_, sound, levelDbfs, within) => {
    for (const [before, after] of [
      [0, 0],
      [0.5, 0],
      [0, 9],
      [3, 2],
    ]) {
      const samples = between(before, sound, after);
      const { response, quality } = deconvolveCapture(
        recorded(samples),
        makeRecording(wav(samples), { role: 'stimulus' }),
      );
      const inside = response.levelDb.filter((_, i) => response.frequencyHz[i] > 20 && response.frequencyHz[i] < 250);
      const mean = inside.reduce((sum, db) => sum + db, 0) / inside.length;
      expect(Math.abs(mean - (levelDbfs - 6.02))).toBeLessThan(within / 3);
      expect(quality.warnings.map(({ code }) => code)).not.toContain('capture-noise-unknown');
    }
  });
});
