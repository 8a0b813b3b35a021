import { describe, expect, it } from 'vitest';
import { fadeEnds, halfHann, hann, kaiser, kaiserBeta } from '../../lib/signal/windows';
// scipy.signal.get_window, scipy 1.10.1; script beside the values
import reference from '../reference/signals.json';

const expectLike = (mine: Float64Array, wanted: number[]) => {
  expect(mine).toHaveLength(wanted.length);
  wanted.forEach((value, n) => {
    expect(mine[n]).toBeCloseTo(value, 13);
  });
};

describe('windows', () => {
  it('agree with scipy', () => {
    expectLike(hann(9), reference.hannSymmetric);
    expectLike(hann(9, 'periodic'), reference.hannPeriodic);
    expectLike(kaiser(9, kaiserBeta(100)), reference.kaiser);
  });

  it('are 1 where there is one sample only', () => {
    expect([...hann(1), ...kaiser(1, 5)]).toEqual([1, 1]);
  });

  it('fade in and out to a sum of 1', () => {
    const rise = halfHann(10);
    for (let n = 1; n < 10; n++) expect(rise[n] + rise[10 - n]).toBeCloseTo(1, 14);
    expect(rise[0]).toBe(0);
  });

  it('fade both ends to nothing and leave the middle', () => {
    const faded = fadeEnds(new Float64Array(100).fill(2), 10, 20);
    expect(faded[0]).toBe(0);
    expect(faded[99]).toBe(0);
    expect(faded[89]).toBeCloseTo(1, 12); // half-way
    expect(faded.subarray(10, 80).every((x) => x === 2)).toBe(true);
  });
});
