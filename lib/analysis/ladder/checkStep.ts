import type { Ladder } from '../../model/findings';
import type { CommonGains } from './commonGains';
import { fitLine, type Line } from './fitLine';
import { studentT } from './studentT';

/** What one run may be off by as a whole when too few runs are there to find out (standard deviation), dB. */
export const ASSUMED_SCATTER_DB = 0.2;
/** No uncertainty is smaller: levels are exported with 0.01 dB. */
const LEAST_UNCERTAINTY_DB = 0.01;
const FEWEST_RUNGS = 4;

export interface StepCheck {
  step: Ladder['step'];
  /** Gain per dB of commanded drive; 1 where it could not be measured. */
  slope: number;
  /** By rung: how much louder the whole run came out than the line; NaN where not known. */
  runGainDb: number[];
  /** Standard deviation of that from run to run; null where too few rungs tell. */
  repeatScatterDb: number | null;
  /** Rungs that the slope rests on. */
  rungs: number;
}

/**
 * Measure the true step: slope of the common gain over commanded drive, with its uncertainty (95 %).
 *
 * @param driveDb commanded, above the lowest rung. @param gains of the bands that do not compress.
 *
 * Notes: each rung counts once, however many bands it has, since a run is too loud or too soft as a whole; hence Student's
 * t for as many degrees of freedom as rungs less two. Where the line bends downwards beyond chance, all bands compress
 * together: the top rung is left out until it no longer does, and one more for good measure. A loss
 * common to all bands that grows in proportion to drive cannot be told from a smaller step. With two rungs only, 0.2 dB of
 * scatter from run to run is assumed.
 */
export function checkStep(driveDb: number[], gains: CommonGains): StepCheck {
  const commandedDb = median(driveDb.slice(1).map((drive, i) => drive - driveDb[i]));
  let joined = gains.gainDb.flatMap((gain, rung) => (Number.isFinite(gain) ? [rung] : []));
  const refit = () => fitRungs(driveDb, gains, joined);
  let line = refit();
  let bent = false;
  while (joined.length > FEWEST_RUNGS && line.bendsDown) {
    joined = joined.slice(0, -1);
    line = refit();
    bent = true;
  }
  if (bent && joined.length > FEWEST_RUNGS) {
    joined = joined.slice(0, -1);
    line = refit();
  }
  const runGainDb = driveDb.map((drive, rung) =>
    joined.includes(rung) ? gains.gainDb[rung] - line.offset - line.slope * drive : Number.NaN,
  );
  if (joined.length < 2) {
    const step = { commandedDb, measuredDb: commandedDb, uncertaintyDb: commandedDb, differs: false };
    return { step, slope: 1, runGainDb, repeatScatterDb: null, rungs: joined.length };
  }
  const measuredDb = line.slope * commandedDb;
  const uncertaintyDb = Math.max(LEAST_UNCERTAINTY_DB, uncertaintyOf(line, joined, driveDb) * commandedDb);
  return {
    step: { commandedDb, measuredDb, uncertaintyDb, differs: Math.abs(measuredDb - commandedDb) > uncertaintyDb },
    slope: line.slope,
    runGainDb,
    repeatScatterDb: joined.length < FEWEST_RUNGS ? null : line.scatter,
    rungs: joined.length,
  };
}

function fitRungs(driveDb: number[], gains: CommonGains, joined: number[]): Line {
  return fitLine(
    joined.map((rung) => driveDb[rung]),
    joined.map((rung) => gains.gainDb[rung]),
    joined.map((rung) => gains.errorDb[rung]),
  );
}

function uncertaintyOf(line: Line, joined: number[], driveDb: number[]): number {
  if (joined.length > 2) return studentT(joined.length - 2) * line.slopeError;
  return (1.96 * Math.SQRT2 * ASSUMED_SCATTER_DB) / (driveDb[joined[1]] - driveDb[joined[0]]);
}

function median(values: number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 ? sorted[middle] : 0.5 * (sorted[middle - 1] + sorted[middle]);
}
