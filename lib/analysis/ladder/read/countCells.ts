import type { Cells } from '../cells';
import { areAlike, checkStep, isSure, type StepCheck, withoutRunGains } from '../gains/checkStep';
import { type CommonGains, commonGains } from '../gains/commonGains';
import { bandTrack, type TrackPoint } from './bandTrack';
import { type Compression, countCompression } from './countCompression';
import { findLimiting, type Limiting } from './findLimiting';
import { findReferences } from './findReferences';
import { type Proof, proveReferences } from './proveReferences';
import { type ReferenceLevel, referenceLevels } from './referenceLevels';

/** The rungs judged, counted: all by the index among them. */
export interface Counted {
  /** Reference rung of each band. */
  references: (number | null)[];
  gains: CommonGains;
  /** The step check as found, and as it is counted with. */
  found: StepCheck;
  check: StepCheck;
  runs: 'evened' | 'as measured';
  stepUsed: 'commanded' | 'measured';
  /** What commanded drive is multiplied with, and the share of the drive counted with that arrives. */
  scale: number;
  share: number;
  /** With evened runs and the drive counted with. */
  cells: Cells;
  levels: ReferenceLevel[];
  proofs: Proof[];
  compression: Compression;
  tracks: TrackPoint[][];
  limiting: (Limiting | null)[];
}

/**
 * Count the compression of the rungs judged: from which rung, with which step, how far it goes, and what limits.
 *
 * @param counted their cells. @param commandedDb the usual step. @param wanted step and runs as asked for.
 */
export function countCells(
  counted: Cells,
  commandedDb: number,
  wanted: { step: 'commanded' | 'measured'; runs?: 'evened' | 'as measured' },
): Counted {
  const references = findReferences(counted);
  const gains = commonGains(counted, references);
  const found = checkStep(counted.driveDb, gains, commandedDb);
  const runs = areAlike(found) ? (wanted.runs ?? 'evened') : 'as measured';
  const check = runs === 'evened' ? found : withoutRunGains(found);
  const stepUsed = isSure(found) ? wanted.step : 'commanded';
  const scale = stepUsed === 'measured' ? check.slope : 1;
  const scaled = { ...counted, driveDb: counted.driveDb.map((db) => db * scale) };
  // a run that is off in all bands alike was driven, or read, wrongly
  const evened = counted.levelDb.map((row, rung) => row.map((level) => level - check.runGainDb[rung]));
  const cells = { ...scaled, levelDb: evened };
  const share = check.slope / scale;
  const levels = referenceLevels(cells, references, gains, check);
  const proofs = proveReferences(cells, references, gains, check, share);
  const compression = countCompression(cells, references, levels, proofs, check, gains.cellScatterDb);
  const tracks = cells.bandsHz.map((_, band) => bandTrack(scaled, compression, band));
  const limiting = tracks.map(findLimiting);
  return {
    references,
    gains,
    found,
    check,
    runs,
    stepUsed,
    scale,
    share,
    cells,
    levels,
    proofs,
    compression,
    tracks,
    limiting,
  };
}
