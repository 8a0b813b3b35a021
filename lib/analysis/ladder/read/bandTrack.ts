import type { Cells } from '../cells';
import type { Compression } from './countCompression';

/** The trusted part of one band from its reference rung up: what onsets, ceilings and regions are read from. */
export interface TrackPoint {
  rung: number;
  driveDb: number;
  levelDb: number;
  lossDb: number;
  deviationDb: number;
}

/** Read the trusted cells of a band from its reference rung up, lowest first. */
export function bandTrack(cells: Cells, compression: Compression, band: number): TrackPoint[] {
  return cells.driveDb.flatMap((driveDb, rung) => {
    const lossDb = compression.lossDb[rung][band];
    if (!compression.trusted[rung][band] || !Number.isFinite(lossDb)) return [];
    const deviationDb = compression.deviationDb[rung][band];
    return [{ rung, driveDb, levelDb: cells.levelDb[rung][band], lossDb, deviationDb }];
  });
}
