import { describe, expect, it } from 'vitest';
import { bandAround, nearestCentre, nominalHz, OCTAVE_RATIO, thirdOctaveCentres } from '../../lib/model/octaves';

// IEC 61260-1:2014, table E.1 (base-ten system): nominal and exact mid-band frequencies of third-octave bands.
// The exact values are 10^(x/10) printed to five significant digits, as the table prints them.
const TABLE = [
  [12.5, 12.589],
  [16, 15.849],
  [20, 19.953],
  [25, 25.119],
  [31.5, 31.623],
  [40, 39.811],
  [50, 50.119],
  [63, 63.096],
  [80, 79.433],
  [100, 100],
  [125, 125.89],
  [160, 158.49],
  [200, 199.53],
];

describe('third-octave bands', () => {
  it('are found by their nominal names', () => {
    for (const [nominal, exact] of TABLE) expect(nearestCentre(nominal) / exact).toBeCloseTo(1, 4);
  });

  it('have the exact mid-band frequencies of IEC 61260-1', () => {
    const centres = thirdOctaveCentres(11, 225);
    expect(centres).toHaveLength(TABLE.length);
    TABLE.forEach(([nominal, exact], i) => {
      expect(centres[i] / exact).toBeCloseTo(1, 4);
      expect(nominalHz(centres[i])).toBe(nominal);
    });
  });

  it('have the octave ratio 10^0.3 and edges a sixth of an octave away', () => {
    expect(OCTAVE_RATIO).toBeCloseTo(1.99526, 5);
    const [low, high] = bandAround(100, 3);
    expect(low).toBeCloseTo(89.125, 3);
    expect(high).toBeCloseTo(112.202, 3);
  });

  it('are taken only where the whole band lies inside the range', () => {
    const [low, high] = bandAround(thirdOctaveCentres(17, 29)[0], 3);
    expect(thirdOctaveCentres(low, high)).toHaveLength(1);
    expect(thirdOctaveCentres(low * 1.001, high)).toHaveLength(0);
    expect(thirdOctaveCentres(low, high * 0.999)).toHaveLength(0);
    expect(thirdOctaveCentres(0, 100)).toEqual([]);
  });
});
