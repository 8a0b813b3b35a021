import { median } from '../fitting/median';
import type { PlannedBurst } from './burstPlan';
import type { BurstReading } from './readBurst';

/** Rungs on each side whose noise speaks for a burst's as well. */
const NEIGHBOURS = 2;

/**
 * Powers of the noise by burst and order, on the side of caution.
 *
 * @param least power of the error of rounding: silence may be free of it, but no burst of a few steps is, and there it
 * comes as harmonics.
 *
 * Notes: one stretch of noise scatters by many dB, and each of hundreds of harmonics has its chance to look like a
 * distorted one. So the largest counts of what stands round the order before this burst and before those of the same
 * frequency one and two levels away (no more: before louder ones the room still rings from louder ones), and of what
 * usually stands at the order itself before all bursts of this frequency, which is where hum is found. A burst with no
 * silence before it, such as the first of a file that begins with it, is told by the others of its frequency.
 */
export function burstNoise(
  plan: PlannedBurst[],
  readings: (BurstReading | undefined)[],
  least: number,
): (number | null)[][] {
  const powers: (number | null)[][] = plan.map(() => []);
  for (const hz of new Set(plan.map((burst) => burst.hz))) {
    const rungs = plan.flatMap((burst, i) => (burst.hz === hz && readings[i] ? [i] : []));
    rungs.sort((a, b) => plan[a].levelDbfs - plan[b].levelDbfs);
    const own = rungs.map((i) => readings[i] as BurstReading);
    const orders = Math.max(0, ...own.map(({ noise }) => noise.length));
    for (let n = 0; n < orders; n++) {
      // powers of noise are spread exponentially: their median is ln 2 of their mean
      const at = own.flatMap(({ noise }) => noise[n]?.at ?? []);
      const usual = median(at) / Math.LN2;
      own.forEach((_, k) => {
        const near = own.slice(Math.max(0, k - NEIGHBOURS), k + NEIGHBOURS + 1);
        const around = near.map((reading) => reading.noise[n]?.around ?? 0);
        powers[rungs[k]][n] = at.length > 0 ? Math.max(usual, least, ...around) : null;
      });
    }
  }
  return powers;
}
