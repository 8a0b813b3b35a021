import type { Interval } from '../../model/curve';
import type { Ladder } from '../../model/findings';
import { bandEdges, heatMap } from './heatMap';
import { HEAT_IN_FULL, HEAT_LIMITS_DB, heatIndex } from './palette';
import type { ChartBuilder } from './renderSvg';

export interface CompressionMapOptions {
  /** Bands of another map that this one is to line up with, Hz. */
  besidesHz?: number[];
  /** Rungs whose captures are bad. */
  bad?: boolean[];
}

/** How much of the drive is lost in each band (across) at each rung (up); what cannot be trusted is hatched. */
export function compressionMap(ladder: Ladder, rangeHz: Interval, options: CompressionMapOptions = {}): ChartBuilder {
  return heatMap({
    drivesDb: ladder.rungs.map(({ driveDb }) => driveDb),
    bad: options.bad ?? [],
    bandsHz: ladder.bandsHz,
    rangeHz: bandEdges(ladder.bandsHz.length > 0 ? [...ladder.bandsHz, ...(options.besidesHz ?? [])] : [], rangeHz),
    cell: (k, band) => {
      const value = ladder.compressionDb[k][band];
      return value === null || !ladder.trusted[k][band] ? null : { value, heat: heatIndex(value) };
    },
    unwritten: HEAT_IN_FULL,
    wordings: (say) => [1, 0].map((decimals) => (value) => say.number(value, decimals)),
    key: ({ chart }) => chart.lossKey(HEAT_LIMITS_DB).map((text, heat) => ({ text, heat })),
  });
}
