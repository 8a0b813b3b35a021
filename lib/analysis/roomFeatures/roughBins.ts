import type { Curve, Interval } from '../../model/curve';
import { powersOf } from '../../model/decibel';
import { smoothLevels } from '../../response/smoothLevels';

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

/**
 * Roughness of a run from bin to bin: of its own amplitude, or of its difference to another run on the same grid,
 * in which all that is smooth and all that is the room's cancels.
 *
 * @param curve the run. @param partner the other, or null. @param rangeHz which bins to give.
 */
export function roughBins({ frequencyHz, levelDb }: Curve, partner: Curve | null, [lowHz, highHz]: Interval): Bins {
  let from = 2;
  while (frequencyHz[from] < lowHz) from++;
  let to = from;
  while (to < frequencyHz.length - 2 && frequencyHz[to] <= highHz) to++;
  const count = Math.max(0, to - from);
  const bins = { hz: new Float64Array(count), power: new Float64Array(count), rough: new Float64Array(count) };
  // steadied: a bin that noise happens to have emptied is not a quiet one
  const power = powersOf(smoothLevels(frequencyHz, levelDb, 12));
  const partnerPower = partner && powersOf(smoothLevels(frequencyHz, partner.levelDb, 12));
  // a single run shows roughness of its amplitude, two runs that of the difference of their levels
  const own = powersOf(levelDb);
  const column = own.map((value, i) =>
    partner ? (levelDb[i] - partner.levelDb[i]) * (Math.LN10 / 20) : Math.sqrt(value),
  );
  for (let k = 0; k < count; k++) {
    const i = from + k;
    let sum = 0;
    for (let j = 0; j < 5; j++) sum += ROUGH[j] * column[i + j - 2];
    bins.hz[k] = frequencyHz[i];
    bins.power[k] = power[i];
    if (partnerPower) {
      // both are taken to hold the same noise
      bins.rough[k] = (sum * sum * power[i]) / (1 + power[i] / partnerPower[i]);
    } else {
      const believed = Math.min(1, (4 * FINE_HZ) / (frequencyHz[i + 2] - frequencyHz[i - 2])) ** 4;
      bins.rough[k] = believed * sum * sum;
    }
  }
  return bins;
}
