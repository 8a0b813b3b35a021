import { describe, expect, it } from 'vitest';
import { deconvolveCapture } from '../../../lib/analysis/deconvolution/deconvolveCapture';
import type { Deconvolution } from '../../../lib/model/findings';
import { interpolate } from '../../../lib/model/interpolate';
import { makeCurve } from '../../../lib/model/makeCurve';
import { stepsOf } from '../../../lib/model/step';
import { randomFrom } from '../../../lib/rig/random';
import type { Biquad } from '../../../lib/signal/biquad';
import { makeMutedSweep, makeSweep } from '../../../lib/signal/makeSweep';
import { recogniseSweep } from '../../../lib/signal/recogniseSweep';
import { runBiquads } from '../../../lib/signal/runBiquads';
import { decodeWav } from '../../../lib/wav/decodeWav';
import { makeRecording } from '../../../lib/wav/makeRecording';
import { writeWav } from '../../../lib/wav/writeWav';
// scipy.fft 1.10.1, division at the full rate; script beside the values
import reference from '../../reference/deconvolution.json';
import { delayOf, type Simulated, simulateCapture, toneThrough } from './simulatedCapture';

const spec = { startHz: 5, endHz: 400, seconds: 8, sampleRateHz: 16000, levelDbfs: -12 };
const stimulus = makeSweep(spec);
const played = Float64Array.from(decodeWav(stimulus).channels[0]);
const amplitude = 10 ** (-12 / 20);
const unit: Simulated = {
  after: [
    { kind: 'high-pass', hz: 24 },
    { kind: 'low-pass', hz: 180 },
  ],
  coefficients: [0.1, -0.2, 0.05, 0.1],
  delayMs: 23,
  noise: 1e-4,
};
const capture = simulateCapture(played, 16000, unit);
const without = { steps: [], role: 'stimulus' as const, label: 'from disk' };

function worstLevel(found: ReturnType<typeof deconvolveCapture>, rig: Simulated, fromHz = 12, rateHz = 16000): number {
  const { frequencyHz, levelDb } = found.response;
  return frequencyHz.reduce((most, hz, i) => {
    return hz < fromHz ? most : Math.max(most, Math.abs(levelDb[i] - toneThrough(rig, amplitude, hz, rateHz).levelDb));
  }, 0);
}

describe('deconvolution', () => {
  it('agrees with a division at the full rate within 0.01 dB and 0.2 degrees, 0.03 dB in the lowest octave of the sweep', () => {
    const { f1, L, samples, fade, lead, tail } = reference.sweep;
    const sweep = new Float64Array(lead + samples + tail);
    for (let n = 0; n < samples; n++) {
      const left = samples - 1 - n;
      const gain = left < fade ? 0.5 + 0.5 * Math.cos((Math.PI * (fade - left)) / fade) : 1;
      sweep[lead + n] = 0.25 * gain * Math.sin(2 * Math.PI * f1 * L * Math.expm1(n / 48000 / L));
    }
    const through = runBiquads(sweep, [reference.highPass as unknown as Biquad]);
    const peak = runBiquads(through, [reference.peak as unknown as Biquad]);
    const heard = new Float64Array(sweep.length);
    for (let n = reference.late; n < heard.length; n++)
      heard[n] = through[n - reference.late] + peak[n - reference.late];
    expect(heard.reduce((sum, x) => sum + x * x, 0) / reference.energy).toBeCloseTo(1, 9);
    const record = (x: Float64Array) =>
      makeRecording(writeWav({ sampleRateHz: 48000, channels: [x] }, { format: 'float64' }));
    const { response } = deconvolveCapture(record(heard), record(sweep), { harmonics: 1, pointsPerOctave: 480 });
    const delay = 2 * Math.PI * (reference.late / 48000);
    // read without the delay, which turns fast
    const turned = response.phaseDeg!.map((deg, i) => {
      const d = ((deg + (delay * response.frequencyHz[i] * 180) / Math.PI) % 360) + 720;
      return (d % 360) - (d % 360 > 180 ? 360 : 0);
    });
    const gain = 20 * Math.log10(0.25);
    const db = interpolate(response.frequencyHz, response.levelDb, reference.hz);
    const deg = interpolate(response.frequencyHz, turned, reference.hz);
    reference.hz.forEach((hz, i) => {
      if (hz < 5) return;
      expect(Math.abs(db[i] - gain - reference.db[i]), `${hz} Hz`).toBeLessThan(hz < 8 ? 0.03 : 0.01);
      const wanted = reference.deg[i] + (delay * hz * 180) / Math.PI;
      const off = deg[i] - wanted - 360 * Math.round((deg[i] - wanted) / 360);
      expect(Math.abs(off), `${hz} Hz`).toBeLessThan(hz < 8 ? 0.3 : 0.2);
    });
  });

  it('gives level, delay, harmonics and marks of a clean capture', () => {
    const progress: number[] = [];
    const found = deconvolveCapture(capture, stimulus, {}, (share) => progress.push(share));
    expect(worstLevel(found, unit)).toBeLessThan(0.2);
    expect(Math.abs(found.delayMs - delayOf(unit, 16000))).toBeLessThan(0.1);
    expect(found.harmonics.map(({ order, role }) => [order, role])).toEqual([2, 3, 4, 5].map((n) => [n, 'harmonic']));
    expect(found.impulse).toMatchObject({ role: 'impulse', channels: 1 });
    expect(found.response.steps.at(-1)).toMatchObject({ did: 'deconvolve', with: { capture: capture.id } });
    expect(found.quality).toMatchObject({ truncatedAtHz: null, missedBelowHz: null, clippedSamples: 0 });
    expect(progress.at(-1)).toBe(1);
    expect([...progress].sort((a, b) => a - b)).toEqual(progress);
  });

  it.each([1e-3, 1e-2])('says how much noise a curve holds: %f', (noise) => {
    const quiet = deconvolveCapture(capture, stimulus);
    const loud = deconvolveCapture(simulateCapture(played, 16000, { ...unit, noise }, 3), stimulus);
    // difference to the clean curve is the noise itself, as complex values
    const ratios = loud.response.frequencyHz.map((_, i) => {
      const value = (curve: typeof loud.response) => {
        const a = 10 ** (curve.levelDb[i] / 20);
        const p = (curve.phaseDeg![i] * Math.PI) / 180;
        return [a * Math.cos(p), a * Math.sin(p)];
      };
      const [a, b] = [value(loud.response), value(quiet.response)];
      return ((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) / 10 ** (loud.response.noiseDb![i] / 10);
    });
    const mean = ratios.reduce((sum, x) => sum + x, 0) / ratios.length;
    expect(Math.abs(10 * Math.log10(mean))).toBeLessThan(2);
  });

  it.each([
    ['earlier', { startS: -4 }],
    ['later', { startS: 0.8 }],
  ])('works where the recorder starts %s', (_, change) => {
    const rig = { ...unit, ...change };
    const found = deconvolveCapture(simulateCapture(played, 16000, rig), stimulus);
    expect(worstLevel(found, rig)).toBeLessThan(0.2);
    expect(Math.abs(found.delayMs - delayOf(rig, 16000))).toBeLessThan(0.1);
  });

  it('says what a recorder that starts too late has missed', () => {
    const rig = { ...unit, startS: 3 };
    const found = deconvolveCapture(simulateCapture(played, 16000, rig), stimulus, { harmonics: 1 });
    const { rateSeconds } = stepsOf(stimulus, 'make sweep')[0].with;
    const missed = 5 * Math.exp((2 - 0.023) / rateSeconds);
    expect(found.quality.missedBelowHz! / missed).toBeCloseTo(1, 2);
    expect(found.response.frequencyHz[0]).toBeGreaterThan(missed);
    expect(worstLevel(found, rig)).toBeLessThan(0.3);
  });

  it.each([60, -120])('tells and takes out a clock that is off by %i ppm', (clockPpm) => {
    const rig = { ...unit, clockPpm };
    const { quality, delayMs } = deconvolveCapture(simulateCapture(played, 16000, rig), stimulus);
    expect(Math.abs(quality.clockPpm! - clockPpm)).toBeLessThan(quality.clockUncertaintyPpm!);
    expect(quality.clockUncertaintyPpm).toBeLessThan(60);
    expect(Math.abs(delayMs - 23)).toBeLessThan(0.25);
  });

  it('says what its delay rests on', () => {
    const step = ({ response }: Deconvolution) => stepsOf(response, 'deconvolve')[0].with.delayFrom;
    expect(step(deconvolveCapture(capture, stimulus))).toBe('phase');
    // a strong echo bends the phase
    const echoed = { ...unit, echoes: [{ ms: 13.1, gain: 0.9 }] };
    expect(step(deconvolveCapture(simulateCapture(played, 16000, echoed), stimulus))).toBe('first arrival');
  });

  it('takes a stimulus from disk, without our step, and of another sample rate', () => {
    const disk = makeRecording(stimulus.wav, without);
    const found = deconvolveCapture(capture, disk);
    expect(worstLevel(found, unit)).toBeLessThan(0.2);
    expect(found.harmonics).toHaveLength(4);
    const other = makeSweep({ ...spec, sampleRateHz: 11025 });
    const mixed = deconvolveCapture(capture, makeRecording(other.wav, without));
    expect(mixed.quality.ratesHz).toEqual({ capture: 16000, stimulus: 11025 });
    expect(worstLevel(mixed, unit)).toBeLessThan(0.2);
    expect(Math.abs(mixed.delayMs - 23)).toBeLessThan(0.15);
  });

  it('gives a response only, and says so, where the stimulus is no exponential sweep', () => {
    const random = randomFrom(['noise as stimulus']);
    const noise = Float64Array.from({ length: 10 * 16000 }, (_, n) => (n < 8 * 16000 ? 0.1 * random.normal() : 0));
    const rig = { ...unit, coefficients: [] };
    const disk = makeRecording(writeWav({ sampleRateHz: 16000, channels: [noise] }), without);
    const found = deconvolveCapture(simulateCapture(noise, 16000, rig), disk);
    expect(found.harmonics).toEqual([]);
    expect(found.quality.warnings).toContainEqual(expect.objectContaining({ code: 'not-a-sweep', severity: 'remark' }));
    const { frequencyHz, levelDb } = found.response;
    const off = frequencyHz
      .map((hz, i) => levelDb[i] - toneThrough(rig, 1, hz, 16000).levelDb)
      .filter((_, i) => frequencyHz[i] > 15);
    expect(Math.max(...off) - Math.min(...off)).toBeLessThan(1);
  });

  it('reads the wanted channel, calibrates and corrects', () => {
    const two = simulateCapture(played, 16000, { ...unit, channels: (x) => [x.map(() => 0), x] });
    const correction = makeCurve({ frequencyHz: [5, 5000], levelDb: [-3, -3], role: 'correction' });
    const found = deconvolveCapture(two, stimulus, { channel: 2, fullScaleDb: 120, correction, harmonics: 2 });
    const plain = deconvolveCapture(capture, stimulus, { harmonics: 2 });
    expect(found.response.scale).toBe('spl');
    found.response.levelDb.forEach((db, i) => {
      expect(db).toBeCloseTo(plain.response.levelDb[i] + 123, 3);
    });
    expect(found.harmonics).toHaveLength(1);
  });

  it.each([
    [
      'no-sweep-found',
      () =>
        deconvolveCapture(
          simulateCapture(
            played.map(() => 0),
            16000,
            { noise: 0.01 },
          ),
          stimulus,
        ),
    ],
    ['wrong-sweep', () => deconvolveCapture(capture, makeSweep({ ...spec, seconds: 16 }))],
    ['stimulus-silent', () => deconvolveCapture(capture, makeMutedSweep(spec))],
    ['no-such-channel', () => deconvolveCapture(capture, stimulus, { channel: 2 })],
    ['bad-option', () => deconvolveCapture(capture, stimulus, { harmonics: 0 })],
    ['bad-option', () => deconvolveCapture(capture, stimulus, { pointsPerOctave: 1 })],
  ])('refuses: %s', (code, run) => {
    expect(run).toThrow(expect.objectContaining({ code }));
  });
});

describe('recognising a sweep', () => {
  it.each([
    [{ startHz: 5, endHz: 400, seconds: 5, sampleRateHz: 48000, levelDbfs: -30 }, 16],
    [{ startHz: 10, endHz: 20000, seconds: 3, sampleRateHz: 44100, levelDbfs: -6 }, 24],
    [{ startHz: 20, endHz: 3000, seconds: 10, sampleRateHz: 8000, levelDbfs: -12 }, 16],
  ])('finds %o in %i bits', (wanted, bits) => {
    const made = makeSweep(wanted, { format: bits === 16 ? 'pcm16' : 'pcm24' });
    const plan = recogniseSweep(decodeWav(made.wav).channels[0], wanted.sampleRateHz)!;
    const { rateSeconds } = stepsOf(made, 'make sweep')[0].with;
    expect(plan.rateSeconds / rateSeconds).toBeCloseTo(1, 5);
    expect(plan.startHz / wanted.startHz).toBeCloseTo(1, 1);
    expect(plan.endHz / wanted.endHz).toBeCloseTo(1, 2);
    expect(20 * Math.log10(plan.amplitude)).toBeCloseTo(wanted.levelDbfs, 1);
  });

  it('takes nothing else for a sweep', () => {
    const random = randomFrom(['not a sweep']);
    const linear = Float64Array.from({ length: 80000 }, (_, n) => Math.sin(2 * Math.PI * (0.002 * n + 1e-7 * n * n)));
    expect(recogniseSweep(linear, 8000)).toBeUndefined();
    expect(
      recogniseSweep(
        linear.map(() => random.normal()),
        8000,
      ),
    ).toBeUndefined();
    expect(
      recogniseSweep(
        linear.map((_, n) => Math.sin(n / 20)),
        8000,
      ),
    ).toBeUndefined();
    expect(recogniseSweep(new Float64Array(1000), 8000)).toBeUndefined();
    expect(recogniseSweep(played.slice().reverse(), 16000)).toBeUndefined();
  });
});
