import type { Interval } from '../../model/curve';
import type { Ladder } from '../../model/findings';
import { formatNumber, formatSigned } from '../format';
import { bandEdges, type HeatMapParts, heatMap } from './heatMap';
import { HEAT_LIMITS_DB, heatIndex } from './palette';
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
    drivesDb: ladder.rungs.map(({ driveDb }) => driveDb - ladder.rungs[0].driveDb),
    bad: options.bad ?? [],
    bandsHz: ladder.bandsHz,
    rangeHz: bandEdges(ladder.bandsHz.length > 0 ? [...ladder.bandsHz, ...(options.besidesHz ?? [])] : [], rangeHz),
    cell: (k, band) => {
      const value = ladder.compressionDb[k][band];
      return value === null || !ladder.trusted[k][band] ? null : { value, heat: heatIndex(value) };
    },
    wordings: [1, 0].map((decimals) => (value) => formatNumber(value, decimals)),
    key: lossKey(),
  });
}

function lossKey(): HeatMapParts['key'] {
  const [first, second, ...rest] = HEAT_LIMITS_DB;
  const names = [
    `louder than driven (below ${formatSigned(first, 1)})`,
    `in full (within ${second})`,
    ...rest.map((limit, k) => `${[second, ...rest][k]}–${limit}`),
    `above ${HEAT_LIMITS_DB[HEAT_LIMITS_DB.length - 1]} dB lost`,
  ];
  return names.map((text, heat) => ({ text, heat }));
}
