import { describe, expect, it } from 'vitest';
import { type BiquadSpec, biquad } from '../../lib/signal/biquad';
import { biquadResponse, runBiquads } from '../../lib/signal/runBiquads';
// scipy.signal.bilinear of the analogue models, freqz, lfilter and butter, scipy 1.10.1; script beside the values
import reference from '../reference/filters.json';
import { wave } from './wave';

describe('the second-order filter', () => {
  it.each(reference.filters)('agrees with scipy: $spec at $fs Hz', (wanted) => {
    const filter = biquad(wanted.spec as BiquadSpec, wanted.fs);
    wanted.b.forEach((value, i) => {
      expect(filter.b[i]).toBeCloseTo(value, 10);
      expect(filter.a[i]).toBeCloseTo(wanted.a[i], 10);
    });
    wanted.at.forEach((hz, i) => {
      const { db, deg } = biquadResponse([filter], hz, wanted.fs);
      const notched = wanted.abs[i] < 1e-9;
      expect(Math.abs(10 ** (db / 20) - wanted.abs[i])).toBeLessThan(notched ? 1e-9 : 1e-6 * wanted.abs[i]);
      if (notched) return; // no phase to compare
      const turn = (deg - wanted.deg[i]) / 360;
      expect(Math.abs(turn - Math.round(turn)) * 360).toBeLessThan(1e-4);
    });
    const out = runBiquads(wave(400), [filter]);
    wanted.out.forEach((value, i) => {
      expect(out[20 * i]).toBeCloseTo(value, 8);
    });
  });

  it('is a Butterworth filter where no quality is given', () => {
    const { b, a } = biquad({ kind: 'high-pass', hz: 25 }, 48000);
    [...b, ...a].forEach((value, i) => {
      expect(value).toBeCloseTo(reference.butterworth[i], 12);
    });
  });

  // closed forms: gain at the centre, at 0 Hz, and at the corner
  it('has the gain it is asked for', () => {
    const level = (spec: BiquadSpec, hz: number) => biquadResponse([biquad(spec, 48000)], hz, 48000).db;
    expect(level({ kind: 'peaking', hz: 40, q: 4, gainDb: -6 }, 40)).toBeCloseTo(-6, 8);
    expect(level({ kind: 'low-shelf', hz: 40, gainDb: 5 }, 1e-3)).toBeCloseTo(5, 6);
    expect(level({ kind: 'low-shelf', hz: 40, gainDb: 5 }, 40)).toBeCloseTo(2.5, 8);
    expect(level({ kind: 'high-shelf', hz: 40, gainDb: 5 }, 23999)).toBeCloseTo(5, 6);
    expect(level({ kind: 'high-pass', hz: 5 }, 5)).toBeCloseTo(-10 * Math.log10(2), 6);
  });

  it('adds up in a row, in samples as in levels', () => {
    const chain = [biquad({ kind: 'high-pass', hz: 20 }, 4000), biquad({ kind: 'peaking', hz: 50, gainDb: 4 }, 4000)];
    const one = biquadResponse([chain[0]], 33, 4000);
    const other = biquadResponse([chain[1]], 33, 4000);
    expect(biquadResponse(chain, 33, 4000).db).toBeCloseTo(one.db + other.db, 12);
    const sound = wave(200);
    const before = [...sound];
    expect([...runBiquads(sound, chain)]).toEqual([...runBiquads(runBiquads(sound, [chain[0]]), [chain[1]])]);
    expect([...sound]).toEqual(before);
  });

  it.each([
    [{ hz: 0 }, 'biquad-frequency'],
    [{ hz: 24000 }, 'biquad-frequency'],
    [{ q: 0 }, 'biquad-quality'],
    [{ q: Number.NaN }, 'biquad-quality'],
    [{ gainDb: Number.POSITIVE_INFINITY }, 'biquad-gain'],
    [{ kind: 'comb' as 'notch' }, 'biquad-kind'],
  ])('refuses %o', (change, code) => {
    expect(() => biquad({ kind: 'peaking', hz: 40, ...change }, 48000)).toThrow(expect.objectContaining({ code }));
  });
});
