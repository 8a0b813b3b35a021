import type { Curve, Interval } from '../../model/curve';
import { bridge } from '../../response/bridge';
import { smoothLevels } from '../../response/smoothLevels';
import { snrDb } from '../../response/snrDb';
import { pointScatter } from '../fitting/pointScatter';

/** A subwoofer's pass band is looked for below this, Hz. */
const HIGHEST_PASS_HZ = 300;
/** Below this signal-to-noise ratio even a fit that knows the noise gains nothing. */
const LEAST_SNR_DB = 6;
/** Points that scatter by more than this stand less than 12 dB above a noise that is not known (4.34 sqrt(2 / snr)) ... */
const MOST_SCATTER_DB = 1.5;
/** ... unless they scatter hardly more than those of the pass band do: then it is the room. */
const MORE_SCATTER = 3;
/** A floor of noise lies at least this far below the pass band, and is even to within this, dB. */
const FLOOR_BELOW_DB = 10;
const FLOOR_UNEVEN_DB = 4;
/** Where the fall is half of what it was, signal and floor are alike: 3 dB above the floor. This far above it is enough. */
const ABOVE_FLOOR_DB = 12;
/** How far the response may have fallen at the upper end, dB. */
const UPPER_FALL_DB = 8;

export interface RollOffRange {
  rangeHz: Interval;
  gainDb: number;
  cornerHz: number;
  /** Where the curve comes down to an even floor that is not known to be noise; undefined where it does not. */
  floorHz?: number;
}

/**
 * Find the range in which a high-pass shapes a curve, and first guesses for it.
 *
 * From the lowest frequency that stands out of the noise (or, where the noise is not known, at which points do not
 * scatter as noise does and the curve still falls), but no more than two octaves below the corner, up to where the
 * response has fallen by 8 dB again or to eight times the corner. A range that is given is kept.
 */
export function rollOffRange(curve: Curve, masksHz: readonly Interval[], given?: Interval): RollOffRange {
  const bridged = masksHz.length > 0 ? bridge(curve, [...masksHz]) : curve;
  const f = curve.frequencyHz;
  const wide = smoothLevels(f, bridged.levelDb, 1);
  const third: Third = {
    frequencyHz: f,
    levelDb: smoothLevels(f, bridged.levelDb, 3),
    noiseDb: bridged.noiseDb && smoothLevels(f, bridged.noiseDb, 3),
  };
  const last = f.length - 1;
  const allowed = (hz: number) => (given ? hz >= given[0] && hz <= given[1] : hz <= HIGHEST_PASS_HZ);
  let top = Math.max(f.findIndex(allowed), 0);
  for (let i = top; i <= last && allowed(f[i]); i++) if (wide[i] > wide[top]) top = i;
  const { lowest, floorHz } = given ? { lowest: 0 } : lowestTrusted(third, pointScatter(curve).db, top);
  let corner = top;
  while (corner > lowest && third.levelDb[corner - 1] > wide[top] - 4) corner--;
  const cornerHz = f[corner];
  if (given) return { rangeHz: given, gainDb: wide[top], cornerHz };
  let high = top;
  while (high < last && wide[high + 1] > wide[top] - UPPER_FALL_DB && f[high + 1] <= 8 * cornerHz) high++;
  let low = lowest;
  while (low < corner && f[low] < cornerHz / 4) low++;
  return { rangeHz: [f[low], f[high]], gainDb: wide[top], cornerHz, ...(floorHz && { floorHz }) };
}

/** A curve smoothed over 1/3 octave. */
type Third = Pick<Curve, 'frequencyHz' | 'levelDb' | 'noiseDb'>;

/** Index of the lowest point down to which, from `top`, the curve stands out of the noise. */
function lowestTrusted(third: Third, scatter: Float64Array, top: number): { lowest: number; floorHz?: number } {
  const f = third.frequencyHz;
  const snr = snrDb(third);
  const usual = scatter.filter((_, i) => f[i] > f[top] / 2 && f[i] < f[top] * 2).sort();
  const most = Math.max(MOST_SCATTER_DB, MORE_SCATTER * (usual[usual.length >> 1] ?? 0));
  let lowest = top;
  for (let i = top; i >= 0; i--) {
    const poor = snr ? snr[i] < LEAST_SNR_DB : scatter[i] > most;
    if (!poor) lowest = i;
    // A narrow dip of the room may dive into the noise; a stretch of a third of an octave is the end.
    else if (f[i] < f[lowest] / 2 ** (1 / 3)) break;
  }
  return snr ? { lowest } : aboveFloor(third, lowest, top);
}

/** Without known noise: the lowest point, or where the curve stands out of an even floor that it comes down to. */
function aboveFloor(
  { frequencyHz: f, levelDb }: Third,
  lowest: number,
  top: number,
): { lowest: number; floorHz?: number } {
  const slopeAbove = (i: number): number => {
    let k = i;
    while (k < top && f[k] < f[i] * 2 ** (2 / 3)) k++;
    return k > i ? (levelDb[k] - levelDb[i]) / Math.log2(f[k] / f[i]) : 0;
  };
  // Lowest level from a point down: a floor of noise is one that the curve never falls much below.
  const least = new Float64Array(top + 1);
  for (let i = lowest; i <= top; i++) least[i] = i > lowest ? Math.min(least[i - 1], levelDb[i]) : levelDb[i];
  let steepest = 0;
  for (let i = top; i >= lowest; i--) {
    const slope = slopeAbove(i);
    steepest = Math.max(steepest, slope);
    const even = levelDb[i] < levelDb[top] - FLOOR_BELOW_DB && least[i] > levelDb[i] - FLOOR_UNEVEN_DB;
    if (!even || slope >= steepest / 2) continue;
    let clear = i;
    while (clear < top && levelDb[clear] < levelDb[i] - 3 + ABOVE_FLOOR_DB) clear++;
    return { lowest: clear, floorHz: f[i] };
  }
  return { lowest };
}
