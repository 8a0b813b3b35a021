import type { Curve, Interval } from '../model/curve';
import { untrustedIn } from './caveatsFor';

/**
 * The widest contiguous range in which a curve stands 10 dB and more above its noise.
 *
 * @param curve any curve. @param untrusted what `untrustedIn` gave for it, where that is at hand.
 * @returns Hz; the whole range of the curve where its noise is not known; null where it stands nowhere above it.
 *
 * @example
 * trustedRange(makeCurve({ frequencyHz: [8, 16, 40], levelDb: [60, 80, 90], noiseDb: [58, 58, 58] })) // [16, 40]
 */
export function trustedRange(curve: Curve, untrusted = untrustedIn(curve)): Interval | null {
  const f = curve.frequencyHz;
  const poor = untrusted([[f[0], f[f.length - 1]]]);
  let best: Interval | undefined;
  let next = 0;
  let from = 0;
  for (let i = 0; i < f.length; i++) {
    while (next < poor.length && poor[next][1] < f[i]) next++;
    if (next < poor.length && poor[next][0] <= f[i]) from = i + 1;
    // widest in ratio is widest in octaves
    else if (!best || f[i] * best[0] > best[1] * f[from]) best = [f[from], f[i]];
  }
  return best ?? null;
}
