import { describe, expect, it } from 'vitest';
import { inverseRealFft, nextFastLength, realFft } from '../../lib/signal/fourier';
import { binFrequencies, multiplySpectra } from '../../lib/signal/spectrum';
import { harmonicLead, sweepInverse } from '../../lib/signal/sweepInverse';
import { planSweep, type SweepPlan } from '../../lib/signal/sweepPlan';
import { mutedTwin, sweepSamples } from '../../lib/signal/sweepSamples';
// scipy.signal.chirp (logarithmic), scipy 1.10.1; script beside the values
import reference from '../reference/signals.json';
import { dftAt } from './wave';

const bass = { startHz: 5, endHz: 400, seconds: 20, sampleRateHz: 48000 };
const quick = { startHz: 10, endHz: 1000, seconds: 4, sampleRateHz: 6000, levelDbfs: 0 };

/** Impulse response of a capture by the closed inverse. */
function respond(plan: SweepPlan, capture: Float64Array): Float64Array {
  const length = nextFastLength(2 * capture.length);
  const inverse = sweepInverse(plan, binFrequencies(length / 2 + 1, plan.sampleRateHz));
  return inverseRealFft(multiplySpectra(realFft(capture, length), inverse));
}

describe('the sweep', () => {
  it.each(reference.sweeps)('agrees with scipy from $spec.startHz to $spec.endHz Hz between its fades', (wanted) => {
    const plan = planSweep(wanted.spec);
    expect(plan.rateSeconds).toBeCloseTo(wanted.rateSeconds, 12);
    expect(plan.sweepSamples).toBe(wanted.samples);
    const samples = sweepSamples(plan);
    let compared = 0;
    wanted.at.forEach((n, i) => {
      if (n < plan.fadeInSamples || n >= plan.sweepSamples - plan.fadeOutSamples) return;
      compared++;
      // phase of 60,000 turns carries 1e-11 of rounding on both sides
      expect(Math.abs(samples[plan.leadInSamples + n] - wanted.x[i])).toBeLessThan(1e-8);
    });
    expect(compared).toBeGreaterThan(30);
  });

  it.each([bass, quick, { startHz: 3, endHz: 47, seconds: 1.9, sampleRateHz: 44100 }])(
    'is synchronised: f1 L is whole, and the duration off by no more than ln(f2/f1) / (2 f1): %o',
    (spec) => {
      const plan = planSweep(spec);
      expect(plan.rateSeconds * spec.startHz).toBeCloseTo(Math.round(plan.rateSeconds * spec.startHz), 9);
      const most = Math.log(spec.endHz / spec.startHz) / (2 * spec.startHz);
      expect(Math.abs(plan.sweepSeconds - spec.seconds)).toBeLessThanOrEqual(most + 1e-9);
    },
  );

  it('has silence before and after it, and no click at its ends', () => {
    const plan = planSweep({ ...bass, levelDbfs: 0 });
    const samples = sweepSamples(plan);
    expect(samples).toHaveLength(plan.totalSamples);
    const end = plan.leadInSamples + plan.sweepSamples;
    expect(samples.subarray(0, plan.leadInSamples + 1).every((x) => x === 0)).toBe(true);
    expect(samples.subarray(end - 1).every((x) => x === 0)).toBe(true);
    // a full-scale sine of 400 Hz steps by 2 pi 400 / 48000 at most; without fades the end would jump by up to 1
    const steps = samples.subarray(1).map((x, n) => Math.abs(x - samples[n]));
    expect(steps.reduce((most, step) => Math.max(most, step))).toBeLessThan(0.0525);
    expect(samples.subarray(end - 29).every((x) => Math.abs(x) < 1e-3)).toBe(true);
  });

  it('peaks at its level and no higher', () => {
    const samples = sweepSamples(planSweep({ ...bass, levelDbfs: -20 }));
    const peak = samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
    expect(peak).toBeLessThanOrEqual(0.1);
    expect(peak).toBeGreaterThan(0.0999);
  });

  it('has a muted twin of its length', () => {
    const plan = planSweep(bass);
    expect(mutedTwin(plan)).toHaveLength(sweepSamples(plan).length);
    expect(mutedTwin(plan).every((x) => x === 0)).toBe(true);
  });

  it.each([
    [{ endHz: 24000 }, 'sweep-range'],
    [{ endHz: 5 }, 'sweep-range'],
    [{ startHz: 0 }, 'sweep-range'],
    [{ startHz: Number.NaN }, 'sweep-range'],
    [{ sampleRateHz: Number.POSITIVE_INFINITY }, 'sweep-rate'],
    [{ sampleRateHz: 44100.5 }, 'sweep-rate'],
    [{ seconds: 0 }, 'sweep-time'],
    [{ seconds: 0.2 }, 'sweep-time'],
    [{ seconds: 1e5 }, 'sweep-time'],
    [{ levelDbfs: 1 }, 'sweep-level'],
    [{ levelDbfs: Number.NaN }, 'sweep-level'],
  ])('refuses %o', (change, code) => {
    expect(() => planSweep({ ...bass, ...change })).toThrow(expect.objectContaining({ code }));
  });
});

describe('the closed inverse of the sweep', () => {
  // the sum over all samples, term by term, against the closed form: nothing of ours but the formula itself
  it('undoes the sweep within 0.15 dB and 1 degree an octave inside its ends', () => {
    const plan = planSweep(bass);
    const samples = sweepSamples(plan);
    for (const hz of [10, 14.1, 20, 31.5, 50, 80, 125, 200]) {
      const [a, b] = dftAt(samples, hz, plan.sampleRateHz);
      const [c, d] = sweepInverse(plan, [hz]);
      const [re, im] = [a * c - b * d, a * d + b * c];
      expect(Math.abs(20 * Math.log10(Math.hypot(re, im)))).toBeLessThan(0.15);
      expect(Math.abs((Math.atan2(im, re) * 180) / Math.PI)).toBeLessThan(1);
    }
  });

  it('gives an impulse where the capture is late', () => {
    const plan = planSweep(quick);
    const capture = sweepSamples(plan);
    const late = new Float64Array(capture.length);
    late.set(
      capture.subarray(0, capture.length - 137).map((x) => 0.5 * x),
      137,
    );
    const impulse = respond(plan, late);
    const peak = impulse.reduce((best, x, n) => (Math.abs(x) > Math.abs(impulse[best]) ? n : best), 0);
    expect(peak).toBe(137);
  });

  it('puts the harmonics of a cube at L ln 3 before the impulse, with their level and sign', () => {
    // closed form: sin^3 = (3 sin x - sin 3x) / 4
    const plan = planSweep(quick);
    const impulse = respond(
      plan,
      sweepSamples(plan).map((x) => x ** 3),
    );
    const lead = harmonicLead(plan, 3) * plan.sampleRateHz;
    const at = impulse.length - Math.round(lead);
    const around = impulse.slice(at - 600, at + 600);
    for (const hz of [100, 200, 400, 900]) {
      const [re, im] = dftAt(around, hz, plan.sampleRateHz);
      // turn back to the exact, fractional place of the harmonic
      const angle = 2 * Math.PI * (hz / plan.sampleRateHz) * (600 + Math.round(lead) - lead);
      const real = re * Math.cos(angle) - im * Math.sin(angle);
      const imaginary = re * Math.sin(angle) + im * Math.cos(angle);
      expect(real).toBeCloseTo(-0.25, 2);
      expect(imaginary).toBeCloseTo(0, 2);
    }
  });

  it('is nothing at 0 Hz', () => {
    expect([...sweepInverse(planSweep(bass), [0])]).toEqual([0, 0]);
  });
});
