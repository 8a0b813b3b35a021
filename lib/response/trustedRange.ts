import type { Curve, Interval } from '../model/curve';
import { octavesBetween } from '../model/octaves';
import { untrustedStretches } from './caveatsFor';

/**
 * The widest contiguous range in which a curve stands 10 dB and more above its noise.
 *
 * @returns Hz; the whole range of the curve where its noise is not known, or where it stands nowhere above it.
 *
 * @example
 * trustedRange(makeCurve({ frequencyHz: [8, 16, 40], levelDb: [60, 80, 90], noiseDb: [58, 58, 58] })) // [16, 40]
 */
export function trustedRange({ frequencyHz: f, ...rest }: Curve): Interval {
  const whole: Interval = [f[0], f[f.length - 1]];
  const poor = untrustedStretches({ frequencyHz: f, ...rest }, [whole]);
  if (poor.length === 0) return whole;
  const isPoor = (hz: number) => poor.some(([low, high]) => hz >= low && hz <= high);
  let best: Interval | undefined;
  for (let i = 0; i < f.length; i++) {
    if (isPoor(f[i])) continue;
    const from = i;
    while (i + 1 < f.length && !isPoor(f[i + 1])) i++;
    if (!best || octavesBetween(f[from], f[i]) > octavesBetween(...best)) best = [f[from], f[i]];
  }
  return best ?? whole;
}
