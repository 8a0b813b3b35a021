import type { Interval } from '../../model/curve';
import type { Distortion } from '../../model/findings';
import { percentDigits } from '../format';
import { bandEdges, heatMap } from './heatMap';
import { PERCENT_LIMITS, percentHeatIndex } from './palette';
import type { ChartBuilder } from './renderSvg';

export interface DistortionMapOptions {
  /** Bands of another map that this one is to line up with, Hz. */
  besidesHz?: number[];
  /** Rungs whose captures are bad. */
  bad?: boolean[];
}

/** THD in each band (across) at each rung (up), in percent; what cannot be trusted is hatched. */
export function distortionMap(
  distortion: Distortion,
  rangeHz: Interval,
  options: DistortionMapOptions = {},
): ChartBuilder {
  const last = PERCENT_LIMITS.length - 1;
  return heatMap({
    drivesDb: distortion.rungs.map(({ driveDb }) => driveDb - distortion.rungs[0].driveDb),
    bad: options.bad ?? [],
    bandsHz: distortion.bandsHz,
    rangeHz: bandEdges([...distortion.bandsHz, ...(options.besidesHz ?? [])], rangeHz),
    cell: (k, band) => {
      const value = distortion.thdPercent[k][band];
      return value === null || !distortion.trusted[k][band] ? null : { value, heat: percentHeatIndex(value) };
    },
    wordings: [percentDigits, (value) => (value < 0.5 ? '0' : value.toFixed(0))],
    key: [
      { text: `THD below ${PERCENT_LIMITS[0]} %`, heat: percentHeatIndex(0) },
      ...PERCENT_LIMITS.slice(1).map((limit, k) => ({
        text: `${PERCENT_LIMITS[k]}–${limit}`,
        heat: percentHeatIndex(PERCENT_LIMITS[k]),
      })),
      { text: `above ${PERCENT_LIMITS[last]} %`, heat: percentHeatIndex(PERCENT_LIMITS[last]) },
    ],
  });
}
