import type { Curve, Interval } from '../../model/curve';
import { smoothPowers } from '../../response/smoothPowers';

/**
 * On a grid no coarser than this a single run shows its noise: the fourth difference of a room that rings for 0.8 s
 * lies 20 dB and more below its quiet parts (tried on 60 rooms). On a coarser one, the less of it is believed.
 */
const FINE_HZ = 1;

/** Weights of a fourth difference, which is blind to all that is smooth; scaled to keep the variance of noise. */
const ROUGH = [1, -4, 6, -4, 1].map((weight) => weight / Math.sqrt(70));

/** Bins in range: their frequency, power and squared roughness of the amplitude. */
export interface Bins {
  hz: Float64Array;
  power: Float64Array;
  rough: Float64Array;
}

/** A run, and its power smoothed over 1/12 octave: a bin that noise happens to have emptied is not a quiet one. */
export interface SteadiedRun {
  curve: Curve;
  power: Float64Array;
}

/** Smooth the power of a run once for all that is asked of it. */
export function steadied(curve: Curve): SteadiedRun {
  return { curve, power: smoothPowers(curve.frequencyHz, curve.levelDb, 12) };
}

/**
 * Roughness of a run from bin to bin: of its own amplitude, or of its difference to another run on the same grid,
 * in which all that is smooth and all that is the room's cancels.
 *
 * @param run the run. @param partner the other, or null. @param rangeHz which bins to give.
 */
export function roughBins(run: SteadiedRun, partner: SteadiedRun | null, [lowHz, highHz]: Interval): Bins {
  const { frequencyHz } = run.curve;
  let from = 2;
  while (frequencyHz[from] < lowHz) from++;
  let to = from;
  while (to < frequencyHz.length - 2 && frequencyHz[to] <= highHz) to++;
  const count = Math.max(0, to - from);
  const bins = { hz: new Float64Array(count), power: new Float64Array(count), rough: new Float64Array(count) };
  const column = roughColumn(run, partner);
  for (let k = 0; k < count; k++) {
    const i = from + k;
    let sum = 0;
    for (let j = 0; j < 5; j++) sum += ROUGH[j] * column[i + j - 2];
    bins.hz[k] = frequencyHz[i];
    bins.power[k] = run.power[i];
    if (partner) {
      // both are taken to hold the same noise
      bins.rough[k] = (sum * sum * run.power[i]) / (1 + run.power[i] / partner.power[i]);
    } else {
      const believed = Math.min(1, (4 * FINE_HZ) / (frequencyHz[i + 2] - frequencyHz[i - 2])) ** 4;
      bins.rough[k] = believed * sum * sum;
    }
  }
  return bins;
}

/** A single run shows roughness of its amplitude, two runs that of the difference of their levels. */
function roughColumn({ curve }: SteadiedRun, partner: SteadiedRun | null): Float64Array {
  const column = new Float64Array(curve.levelDb);
  for (let i = 0; i < column.length; i++) {
    column[i] = partner
      ? (column[i] - partner.curve.levelDb[i]) * (Math.LN10 / 20)
      : Math.exp(column[i] * (Math.LN10 / 20));
  }
  return column;
}
