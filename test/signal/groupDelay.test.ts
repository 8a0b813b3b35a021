import { describe, expect, it } from 'vitest';
import { type BiquadSpec, biquad } from '../../lib/signal/biquad';
import { groupDelay } from '../../lib/signal/groupDelay';
import { runBiquads } from '../../lib/signal/runBiquads';
// scipy.signal.group_delay, scipy 1.10.1; script beside the values
import reference from '../reference/filters.json';

const impulse = (length: number, at = 0) => Float64Array.from({ length }, (_, n) => (n === at ? 1 : 0));

describe('the group delay', () => {
  it.each(reference.groupDelays)('agrees with scipy: $spec', ({ spec, fs, at, samples }) => {
    const mine = groupDelay(runBiquads(impulse(16384), [biquad(spec as BiquadSpec, fs)]));
    at.forEach((bin, i) => {
      expect(mine[bin]).toBeCloseTo(samples[i], 6);
    });
  });

  it('of a late impulse is its place, at every frequency', () => {
    groupDelay(impulse(100, 37)).forEach((delay) => {
      expect(delay).toBeCloseTo(37, 9);
    });
  });

  it('of a symmetric filter is half its length', () => {
    groupDelay(Float64Array.of(1, 2, 4, 2, 1), 64).forEach((delay) => {
      expect(delay).toBeCloseTo(2, 9);
    });
  });

  it('of silence is none', () => {
    expect(groupDelay(new Float64Array(8)).every(Number.isNaN)).toBe(true);
  });
});
