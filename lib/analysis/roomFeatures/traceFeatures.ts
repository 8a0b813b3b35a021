import type { Interval } from '../../model/curve';
import { bandAround } from '../../model/octaves';
import { powerIntegral } from '../../response/powerIntegral';
import { areApart, prominenceAt, type Relief, reliefOf } from './prominence';
import { refineExtreme } from './refineExtreme';
import type { RoomTrace } from './roomTrace';
import { levelled } from './slopeOfTrace';

/** A dip or peak of one trace. */
export interface TraceFeature {
  kind: 'dip' | 'peak';
  frequencyHz: number;
  prominenceDb: number;
  depthDb: number;
  widthOctaves: number;
  maskHz: Interval;
  /** Signal-to-noise ratio at the extreme, dB. */
  snrDb: number;
  /** Prominence over the standard deviation by noise of a difference in level between extreme and shoulder. */
  significance: number;
}

export interface SearchOptions {
  minProminenceDb: number;
  /** Where extremes may lie, Hz. */
  rangeHz: Interval;
}

/** Where the response falls or rises faster than this, dB per octave, dips are measured against the slope ... */
const STEEP = 6;

/** ... and must stand out more, since such a dip rests on what is taken for the slope, dB. */
const EXTRA_ON_SLOPE_DB = 1;

/** How far from a peak its feet may be, and on a slope the shoulders of a dip: what is wider is the unit's. */
const REACH_OCTAVES = 0.5;

/** What a mask may leave of a dip outside, dB; of a shallow one no more than a quarter. */
const LEFT_DB = 1.5;

/** A peak that stands out less against its octave belongs to the unit's own shape, dB. */
const LEAST_HEIGHT_DB = 1;

/**
 * Find the dips and peaks of one trace.
 *
 * @param trace smoothed response with its noise. @param options smallest prominence, and the range to search.
 * @returns dips and peaks, by frequency.
 *
 * Notes: dips by topographic prominence. On a steep stretch (the unit's roll-off) a dip between two shoulders of unlike
 * height has none, so there the slope is taken out first, and shoulders are looked for within half an octave.
 * Peaks must have their feet within half an octave, or the pass band of the unit would be one.
 */
export function traceFeatures(trace: RoomTrace, options: SearchOptions): TraceFeature[] {
  const dips = search(trace, 'dip', options, Number.POSITIVE_INFINITY);
  const peaks = search(trace, 'peak', options, REACH_OCTAVES).filter((peak) => peak.depthDb >= LEAST_HEIGHT_DB);
  const { slope, levelDb } = levelled(trace);
  const strict = { ...options, minProminenceDb: options.minProminenceDb + EXTRA_ON_SLOPE_DB };
  const onSlopes = search({ ...trace, levelDb }, 'dip', strict, REACH_OCTAVES, (i) => Math.abs(slope[i]) > STEEP);
  const more = onSlopes.filter(({ maskHz: [low, high] }) => !dips.some((d) => low < d.maskHz[1] && d.maskHz[0] < high));
  return [...dips, ...more, ...peaks].sort((a, b) => a.frequencyHz - b.frequencyHz);
}

function search(
  trace: RoomTrace,
  kind: 'dip' | 'peak',
  { minProminenceDb, rangeHz }: SearchOptions,
  reachOctaves: number,
  wanted: (i: number) => boolean = () => true,
): TraceFeature[] {
  const { frequencyHz: hz, levelDb, snrDb } = trace;
  const relief = reliefOf(trace, kind);
  const integral = powerIntegral(hz, levelDb);
  const found: TraceFeature[] = [];
  const taken: number[] = [];
  const inside = relief.lows.filter((i) => hz[i] >= rangeHz[0] && hz[i] <= rangeHz[1] && wanted(i));
  for (const i of inside.sort((a, b) => relief.height[a] - relief.height[b])) {
    const prominence = prominenceAt(relief, i, reachOctaves);
    if (!prominence || prominence.db < minProminenceDb) continue;
    if (!taken.every((other) => areApart(relief, i, other, minProminenceDb / 2))) continue;
    taken.push(i);
    const { db, left, right, significance } = prominence;
    const depthDb = relief.sign * (octaveMeanDb(hz, integral.meanDb, hz[i]) - levelDb[i]);
    const edges = (rise: number) => edgesAt(relief, i, left, right, rise);
    const half = edges(Math.min(db, depthDb > 0 ? depthDb : db) / 2);
    const whole = Math.min(db, Math.max(depthDb, db / 2));
    const mask = edges(whole - Math.min(LEFT_DB, 0.25 * whole));
    found.push({
      kind,
      frequencyHz: 2 ** refineExtreme(relief, i, db),
      prominenceDb: db,
      depthDb,
      widthOctaves: half[1] - half[0],
      maskHz: [2 ** mask[0], 2 ** mask[1]],
      snrDb: snrDb[i],
      significance,
    });
  }
  return found;
}

function octaveMeanDb(hz: Float64Array, meanDb: (lowHz: number, highHz: number) => number, at: number): number {
  const [low, high] = bandAround(at, 1);
  // centred also near the ends, as all smoothing is
  const ratio = Math.min(high / at, at / low, at / hz[0], hz[hz.length - 1] / at);
  return meanDb(at / ratio, at * ratio);
}

/** Where the relief has risen by so much on either side, on straight lines between points; the shoulders at most. */
function edgesAt({ octave, height }: Relief, at: number, left: number, right: number, rise: number): Interval {
  const level = height[at] + rise;
  const edge = (end: number, step: 1 | -1) => {
    for (let i = at; i !== end; i += step) {
      if (height[i + step] < level) continue;
      const t = (level - height[i]) / (height[i + step] - height[i]);
      return octave[i] + Math.max(0, t) * (octave[i + step] - octave[i]);
    }
    return octave[end];
  };
  return [edge(left, -1), edge(right, 1)];
}
