import { describe, expect, it } from 'vitest';
import { readBurst } from '../../../lib/analysis/maximumOutput/readBurst';
import { toneBurst } from '../../../lib/signal/toneBurst';
import reference from '../../reference/bursts.json';

/* Values of numpy and scipy: test/reference/bursts.py. */

const { rate, coefficients, cases } = reference;
const db = (x: number) => 20 * Math.log10(x);

/** A capture of 3 s in which something stands after 1 s. */
function capture(hz: number, curve: (x: number) => number): Float64Array {
  const samples = new Float64Array(3 * rate);
  samples.set(toneBurst(hz, rate).map(curve), rate);
  return samples;
}

const read = (samples: Float64Array, hz: number) =>
  readBurst(
    samples,
    rate,
    { hz, centreHz: hz, levelDbfs: 0, atS: 1, seconds: 6.5 / hz, gapBeforeS: 1, gapAfterS: 1 },
    1,
  );

describe('what is read of a burst', () => {
  it.each(cases)('of $hz Hz and $amplitude after a polynomial is what scipy reads', (one) => {
    const { hz, amplitude, harmonicsDb, peak } = one;
    const curve = (x: number) => coefficients.reduce((sum, c, i) => sum + c * (amplitude * x) ** (i + 1), 0);
    const { amplitudes, peak: found } = read(capture(hz, curve), hz);
    harmonicsDb.forEach((wanted, i) => {
      if (wanted > -70) expect(Math.abs(db(amplitudes[i + 1] / amplitudes[0]) - wanted)).toBeLessThan(0.05);
    });
    // scipy's band is cut, ours fades: they differ in how much of the narrower third power they keep
    expect(Math.abs(db(found / peak))).toBeLessThan(0.1);
  });

  it('of the burst alone is its own spectrum, 59 dB down at 2 f and less at higher orders', () => {
    const { amplitudes, peak } = read(
      capture(40, (x) => x),
      40,
    );
    expect(peak).toBeCloseTo(1, 4);
    expect(amplitudes[0]).toBeCloseTo(1, 4);
    reference.ownSpectrumDb.forEach((wanted, i) => {
      expect(db(amplitudes[i + 1])).toBeLessThan(Math.max(wanted + 1, -70));
    });
  });
});

describe('a harmonic that grows with a power of the burst', () => {
  it('reads less than that of a steady tone, by the means of the window’s powers: C(2n, n) / 4^n (Wallis)', () => {
    const means = [0, 1 / 2, 3 / 8, 5 / 16, 35 / 128, 63 / 256];
    for (const [n, level] of Object.entries(reference.windowPowersDb)) {
      expect(level).toBeCloseTo(db(means[Number(n)] / means[1]), 6);
    }
    // as the docstring says: 2.5 dB for the second, 4.1 dB for the third
    expect(reference.windowPowersDb[2]).toBeCloseTo(-2.5, 1);
    expect(reference.windowPowersDb[3]).toBeCloseTo(-4.1, 1);
  });
});
