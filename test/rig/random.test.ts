import { describe, expect, it } from 'vitest';
import { randomFrom } from '../../lib/rig/random';

describe('the random source', () => {
  it('gives the Mersenne Twister of another implementation, number by number', () => {
    // numpy 1.24.2 (Debian's scipy stack): numpy.random.RandomState([1, 2, 3]).random_sample(4)
    const random = randomFrom([1, 2, 3]);
    expect([random.uniform(), random.uniform(), random.uniform(), random.uniform()]).toEqual([
      0.6098612722867289, 0.8866970434146851, 0.47633673750662764, 0.8976583215326422,
    ]);
  });

  it('gives the same numbers for the same key and others for another', () => {
    const first = (key: (number | string)[]) => randomFrom(key).uniform();
    expect(first([5, 'noise', 0])).toBe(first([5, 'noise', 0]));
    const keys = [
      [5, 'noise', 0],
      [5, 'noise', 1],
      [6, 'noise', 0],
      [5, 'run', 0],
      [5, 'noise', 0.5],
      [5, 'noise', -3],
    ];
    expect(new Set(keys.map(first)).size).toBe(keys.length);
  });

  it('spreads normal deviates as the normal distribution does', () => {
    const random = randomFrom([9, 'normal']);
    const values = Array.from({ length: 100_000 }, () => random.normal());
    const mean = values.reduce((sum, v) => sum + v, 0) / values.length;
    const variance = values.reduce((sum, v) => sum + v * v, 0) / values.length;
    const beyond = values.filter((v) => Math.abs(v) > 1.959964).length / values.length; // two-sided 5 % point, statistics table
    expect(Math.abs(mean)).toBeLessThan(4 / Math.sqrt(1e5));
    expect(Math.abs(variance - 1)).toBeLessThan(4 * Math.sqrt(2 / 1e5));
    expect(Math.abs(beyond - 0.05)).toBeLessThan(4 * Math.sqrt(0.0475 / 1e5));
  });

  it('picks every entry of a list and stays between its ends', () => {
    const random = randomFrom([3, 'pick']);
    const picked = Array.from({ length: 300 }, () => random.pick(['a', 'b', 'c']));
    expect(new Set(picked).size).toBe(3);
    for (let i = 0; i < 1000; i++) {
      const value = random.between(2, 5);
      expect(value >= 2 && value < 5).toBe(true);
    }
  });
});
