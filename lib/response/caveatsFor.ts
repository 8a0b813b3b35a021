import type { Curve, Interval } from '../model/curve';
import { mergeIntervals } from './intervals';
import { smoothLevels } from './smoothLevels';
import { snrDb } from './snrDb';

/** Below this signal-to-noise ratio a number is not trusted. */
export const TRUSTED_SNR_DB = 10;

/**
 * Say where a curve is too close to its noise to be trusted.
 *
 * @param curve any curve. @param intervalsHz the ranges that a finding rests on, Hz.
 * @returns one plain sentence for each untrusted stretch inside the ranges; none where the noise is not known.
 *
 * Judged after 1/6-octave smoothing of level and noise, since single points scatter.
 *
 * @example
 * caveatsFor(makeCurve({ frequencyHz: [8, 16, 40], levelDb: [60, 80, 90], noiseDb: [58, 58, 58] }), [[5, 50]])
 */
export function caveatsFor(curve: Curve, intervalsHz: Interval[]): string[] {
  return untrustedStretches(curve, intervalsHz).map(([low, high]) => {
    const where = high > low ? `from ${shortHz(low)} to ${shortHz(high)} Hz` : `at ${shortHz(low)} Hz`;
    return `${curve.label}: signal less than ${TRUSTED_SNR_DB} dB above the noise ${where}; numbers read there are not to be trusted.`;
  });
}

/** Stretches inside some ranges where the smoothed signal-to-noise ratio is below 10 dB, Hz. */
export function untrustedStretches(curve: Curve, intervalsHz: Interval[]): Interval[] {
  const { frequencyHz: f, levelDb, noiseDb } = curve;
  if (!noiseDb) return [];
  const snr = snrDb({ levelDb: smoothLevels(f, levelDb, 6), noiseDb: smoothLevels(f, noiseDb, 6) }) as number[];
  const stretches: Interval[] = [];
  for (const [low, high] of mergeIntervals(intervalsHz, 'intervalsHz')) {
    let before = -2;
    for (let i = 0; i < f.length; i++) {
      // A range that lies between two points is judged by the points around it.
      const touches = (f[i + 1] ?? f[i]) > low && (f[i - 1] ?? f[i]) < high;
      if (!touches || snr[i] >= TRUSTED_SNR_DB) continue;
      const at = Math.min(Math.max(f[i], low), high);
      if (before === i - 1) stretches[stretches.length - 1][1] = at;
      else stretches.push([at, at]);
      before = i;
    }
  }
  return stretches;
}

function shortHz(hz: number): string {
  return String(Number(hz.toPrecision(3)));
}
