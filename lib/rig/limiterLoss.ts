import type { LimiterSpec } from './rigSpec';

/**
 * Level that a limiter takes away, by its static curve.
 *
 * @param limiter ceilings and knees, or undefined for none.
 * @param hz frequency, Hz. @param levelDb level at 1 m that the unit would reach without it, dB.
 * @returns dB lost, >= 0; exactly 0 below the knee.
 *
 * Notes: a quadratic knee of width W around the ceiling c, c - W/2 .. c + W/2, then a straight line that grows by
 * `slope` dB per dB. Excursion and amplifier limits join as the inverse sum of powers; the guard's edge is a logistic
 * step about a third of an octave wide. Each frequency is limited by itself, as in a slow sweep; no attack or release.
 *
 * Reference: D. Giannoulis, M. Massberg, J. Reiss, Digital Dynamic Range Compressor Design, J. Audio Eng. Soc. 60
 * (2012) 399-408, eq. 4 (the static curve; from memory).
 *
 * @example
 * limiterLoss({ excursionAt20HzDb: 200, amplifierDb: 100, kneeDb: 4, slope: 0 }, 50, 110) // 10
 */
export function limiterLoss(limiter: LimiterSpec | undefined, hz: number, levelDb: number): number {
  if (!limiter) return 0;
  const guarded = limiter.guard ? 1 / (1 + (hz / limiter.guard.belowHz) ** 24) : 0;
  const excursionDb = limiter.excursionAt20HzDb + 40 * Math.log10(hz / 20);
  const openDb = -10 * Math.log10(10 ** (-excursionDb / 10) + 10 ** (-limiter.amplifierDb / 10));
  const ceilingDb = openDb - guarded * (limiter.guard?.offsetDb ?? 0);
  const kneeDb = limiter.kneeDb * (1 - guarded) + guarded * (limiter.guard?.kneeDb ?? 0);
  const slope = limiter.slope * (1 - guarded);
  const over = levelDb - ceilingDb;
  if (over <= -kneeDb / 2) return 0;
  if (over >= kneeDb / 2) return (1 - slope) * over;
  return ((1 - slope) * (over + kneeDb / 2) ** 2) / (2 * kneeDb);
}

/**
 * Level lost to heat in the voice coil at a steady drive.
 *
 * @param driveDb drive above the lowest rung, dB. @param heatDriveDb drive at which 4.2 dB are lost; undefined: none.
 * @returns dB lost, >= 0, the same at every frequency.
 *
 * Notes: R = R0 (1 + a T) and T proportional to U^2 / R give r^2 - r - p = 0 for r = R/R0, with p growing with the
 * power of the drive; p = 1 gives r = 1.618. The loss is 20 lg r: a voltage drives less current, hence less force.
 *
 * @example
 * heatLoss(30, 30) // 4.18
 */
export function heatLoss(driveDb: number, heatDriveDb: number | undefined): number {
  if (heatDriveDb === undefined) return 0;
  const p = 10 ** ((driveDb - heatDriveDb) / 10);
  return 20 * Math.log10((1 + Math.sqrt(1 + 4 * p)) / 2);
}
