import type { Ladder } from '../../model/findings';
import type { CommonGains } from './commonGains';
import { fitGainLine, type GainLine } from './fitGainLine';
import { studentT } from './studentT';

/** What one run is taken to be off by as a whole before any is seen (standard deviation), dB ... */
const EXPECTED_SCATTER_DB = 0.1;
/** ... weighing as much as so many runs. */
const EXPECTED_WEIGHT = 2;
/** No uncertainty is smaller: levels are exported with 0.01 dB. */
const LEAST_UNCERTAINTY_DB = 0.01;
/** With fewer rungs a straight line must do. */
const RUNGS_TO_BEND = 6;
const RUNGS_FOR_SCATTER = 4;
/** Rungs where all bands have lost more than this together are left out, dB. */
const MOST_LOSS_DB = 1;
/** Outside this share of the commanded step it is no step that was measured. */
const PLAUSIBLE = [0.6, 1.5] as const;

export interface StepCheck {
  step: Ladder['step'];
  /** Gain per dB of commanded drive where nothing compresses; 1 where it could not be measured. */
  slope: number;
  /** By rung: how much louder the whole run came out than it should, as far as that is known; 0 where it is not. */
  runGainDb: number[];
  /** By rung: standard deviation of what is left of that, dB. */
  runErrorDb: number[];
  /** By rung: loss that all bands share; NaN where not known. */
  sharedLossDb: number[];
  /** Standard deviation of whole runs; null where too few rungs tell. */
  repeatScatterDb: number | null;
  /** How many rungs the slope rests on; 0 where what was found is no step. */
  rungs: number;
}

/**
 * Measure the true step: slope of the common gain over commanded drive where nothing compresses, with its uncertainty (95 %).
 *
 * @param driveDb commanded, above the lowest rung. @param gains of the bands that do not compress.
 *
 * Notes: each rung counts once, however many bands it has, since a run is too loud or too soft as a whole; hence
 * Student's t for as many degrees of freedom as rungs less the fitted terms. A loss of all bands together that
 * grows with power (heat, soft limiting) is fitted along; rungs where it exceeds 1 dB are left out. Before any rung is seen, runs are
 * taken to scatter by 0.1 dB, with the weight of two rungs: it keeps three rungs from claiming too much or nothing at all. A loss
 * common to all bands that grows in proportion to drive in dB cannot be told from a smaller step.
 */
export function checkStep(driveDb: number[], gains: CommonGains): StepCheck {
  const commandedDb = median(driveDb.slice(1).map((drive, i) => drive - driveDb[i]));
  let joined = gains.gainDb.flatMap((gain, rung) => (Number.isFinite(gain) ? [rung] : []));
  if (joined.length < 2) return notMeasured(driveDb, commandedDb, 0);
  let found = fitRungs(driveDb, gains, joined);
  while (joined.length >= RUNGS_TO_BEND && found.line.lossDb[joined.length - 1] - found.line.lossDb[0] > MOST_LOSS_DB) {
    joined = joined.slice(0, -1);
    found = fitRungs(driveDb, gains, joined);
  }
  const { line, scatter, slopeError, freedom } = found;
  if (line.slope < PLAUSIBLE[0] || line.slope > PLAUSIBLE[1]) {
    return notMeasured(driveDb, commandedDb, Math.abs(1 - line.slope));
  }
  const measuredDb = line.slope * commandedDb;
  const uncertaintyDb = Math.max(LEAST_UNCERTAINTY_DB, studentT(freedom) * slopeError * commandedDb);
  const enough = joined.length >= RUNGS_FOR_SCATTER;
  const own = enough ? scatter : EXPECTED_SCATTER_DB;
  const rest = joined.map((rung, i) => gains.gainDb[rung] - line.offset - line.slope * driveDb[rung] + line.lossDb[i]);
  // the more of it is noise, the less of it is believed
  const believed = joined.map((rung) => (enough && own > 0 ? own ** 2 / (own ** 2 + gains.covariance[rung][rung]) : 0));
  const spread = <T>(values: T[], otherwise: T) =>
    driveDb.map((_, rung) => (joined.includes(rung) ? values[joined.indexOf(rung)] : otherwise));
  return {
    step: { commandedDb, measuredDb, uncertaintyDb, differs: Math.abs(measuredDb - commandedDb) > uncertaintyDb },
    slope: line.slope,
    runGainDb: spread(
      rest.map((gain, i) => believed[i] * gain),
      0,
    ),
    runErrorDb: spread(
      believed.map((share) => own * Math.sqrt(1 - share)),
      own,
    ),
    sharedLossDb: spread(line.lossDb, Number.NaN),
    repeatScatterDb: enough ? scatter : null,
    rungs: joined.length,
  };
}

interface Fitted {
  line: GainLine;
  /** Standard deviation of whole runs. */
  scatter: number;
  slopeError: number;
  freedom: number;
}

function fitRungs(driveDb: number[], gains: CommonGains, joined: number[]): Fitted {
  const x = joined.map((rung) => driveDb[rung]);
  const y = joined.map((rung) => gains.gainDb[rung]);
  const noise = joined.map((rung) => joined.map((other) => gains.covariance[rung][other]));
  const bent = joined.length >= RUNGS_TO_BEND;
  const free = joined.length - (bent ? 3 : 2);
  const own = noise.reduce((sum, row, i) => sum + row[i], 0) / noise.length;
  const scatterOf = (line: GainLine) => (free > 0 ? Math.sqrt(Math.max(0, line.squares / free - own)) : 0);
  const rough = scatterOf(
    fitGainLine(
      x,
      y,
      x.map(() => 1),
      bent,
    ),
  );
  const line = fitGainLine(
    x,
    y,
    noise.map((row, i) => 1 / (row[i] + rough ** 2 + 1e-6)),
    bent,
  );
  const scatter = scatterOf(line);
  const freedom = free + EXPECTED_WEIGHT;
  const runVariance =
    (free * Math.max(scatter ** 2, line.squares / Math.max(1, free) - own) +
      EXPECTED_WEIGHT * EXPECTED_SCATTER_DB ** 2) /
    freedom;
  const byRuns = runVariance * line.shares.reduce((sum, share) => sum + share * share, 0);
  const byNoise = line.shares.reduce(
    (sum, a, i) => sum + line.shares.reduce((s, b, j) => s + a * b * noise[i][j], 0),
    0,
  );
  return { line, scatter, slopeError: Math.sqrt(byRuns + Math.max(0, byNoise)), freedom };
}

function notMeasured(driveDb: number[], commandedDb: number, away: number): StepCheck {
  const uncertaintyDb = Math.max(1, away) * commandedDb;
  return {
    step: { commandedDb, measuredDb: commandedDb, uncertaintyDb, differs: false },
    slope: 1,
    runGainDb: driveDb.map(() => 0),
    runErrorDb: driveDb.map(() => EXPECTED_SCATTER_DB),
    sharedLossDb: driveDb.map(() => Number.NaN),
    repeatScatterDb: null,
    rungs: 0,
  };
}

function median(values: number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 ? sorted[middle] : 0.5 * (sorted[middle - 1] + sorted[middle]);
}
