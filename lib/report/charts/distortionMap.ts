import type { Interval } from '../../model/curve';
import type { Distortion } from '../../model/findings';
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
  return heatMap({
    drivesDb: distortion.rungs.map(({ driveDb }) => driveDb),
    bad: options.bad ?? [],
    bandsHz: distortion.bandsHz,
    rangeHz: bandEdges([...distortion.bandsHz, ...(options.besidesHz ?? [])], rangeHz),
    cell: (k, band) => {
      const value = distortion.thdPercent[k][band];
      return value === null || !distortion.trusted[k][band] ? null : { value, heat: percentHeatIndex(value) };
    },
    wordings: (say) => [say.percentDigits, (value) => (value < 1 ? '<1' : say.number(value, 0))],
    key: ({ chart }) =>
      chart
        .thdKey(PERCENT_LIMITS)
        .map((text, k) => ({ text, heat: percentHeatIndex(k === 0 ? 0 : PERCENT_LIMITS[k - 1]) })),
  });
}
