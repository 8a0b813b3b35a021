import { TRUSTED_SNR_DB } from '../../response/caveatsFor';
import type { RoomTrace } from './roomTrace';
import type { TraceFeature } from './traceFeatures';

/** What a run says of a feature. */
export type Sight = 'seen' | 'not seen' | 'drowned in noise' | 'not measured';

export type Sought = Pick<TraceFeature, 'kind' | 'frequencyHz' | 'maskHz'>;

/**
 * Say whether one run shows a feature.
 *
 * @param trace the run. @param sought the feature. @param toleranceHz how far off it may lie.
 * @param enoughDb depth below the rim that counts.
 */
export function sightOf(trace: RoomTrace, sought: Sought, toleranceHz: number, enoughDb: number): Sight {
  const { frequencyHz: hz, snrDb } = trace;
  const [low, high] = sought.maskHz;
  if (hz[0] > low || hz[hz.length - 1] < high) return 'not measured';
  const rimSnrDb = Math.max(snrDb[indexBelow(hz, low)], snrDb[indexBelow(hz, high)]);
  if (rimSnrDb < TRUSTED_SNR_DB) return 'drowned in noise';
  return rimDepthDb(trace, sought, toleranceHz) >= enoughDb ? 'seen' : 'not seen';
}

/**
 * Depth of a dip (height of a peak) against the straight line over log frequency between the ends of its mask, so that
 * neither the level nor the slope of a run matters.
 */
export function rimDepthDb(trace: RoomTrace, sought: Sought, toleranceHz: number): number {
  const { frequencyHz: hz, octave, levelDb } = trace;
  const [low, high] = sought.maskHz.map(Math.log2);
  const [from, to] = [levelAt(trace, low), levelAt(trace, high)];
  const sign = sought.kind === 'dip' ? 1 : -1;
  const depth = (at: number, level: number) => sign * (from + ((to - from) * (at - low)) / (high - low) - level);
  const centre = Math.log2(sought.frequencyHz);
  // also between points, for a grid so coarse that none lies near enough
  let deepest = depth(centre, levelAt(trace, centre));
  for (let i = indexBelow(hz, sought.frequencyHz - toleranceHz) + 1; i < hz.length; i++) {
    if (octave[i] >= high || hz[i] > sought.frequencyHz + toleranceHz) break;
    if (octave[i] > low) deepest = Math.max(deepest, depth(octave[i], levelDb[i]));
  }
  return deepest;
}

function levelAt({ octave, levelDb }: RoomTrace, at: number): number {
  const i = Math.max(0, Math.min(indexBelow(octave, at), octave.length - 2));
  const t = Math.min(1, Math.max(0, (at - octave[i]) / (octave[i + 1] - octave[i])));
  return levelDb[i] + t * (levelDb[i + 1] - levelDb[i]);
}

/** Index of the last value not above a limit; -1 where all are. */
function indexBelow(rising: Float64Array, limit: number): number {
  let low = -1;
  let high = rising.length;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (rising[middle] <= limit) low = middle;
    else high = middle;
  }
  return low;
}
