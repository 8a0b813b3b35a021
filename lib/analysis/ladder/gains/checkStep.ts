import type { Ladder } from '../../../model/findings';
import type { CommonGains } from './commonGains';
import { EXPECTED_SCATTER_DB, fitSharedGain } from './fitSharedGain';
import { fitCommonLoss, shiftAt, squaresOfLine } from './otherReasons';
import { studentT } from './studentT';

/** No uncertainty is smaller: levels are exported with 0.01 dB. */
const LEAST_UNCERTAINTY_DB = 0.01;
/** With fewer rungs nothing can be said of single runs. */
const RUNGS_FOR_SCATTER = 5;
/** Runs that repeat better than this are left as they are: less than what a shared loss of another shape would feign, dB. */
const LEAST_SCATTER_DB = 0.03;
/** Rungs in which all bands have lost more than this together are left out, dB, down to so many rungs. */
const MOST_LOSS_DB = 2;
const RUNGS_TO_KEEP = 6;
/** Rungs where all bands together have lost no more are straight, dB. */
const STRAIGHT_DB = 0.1;
/** What a step is taken to be off by before it is measured, as a share (standard deviation). */
const EXPECTED_ERROR = 0.1;
const SIGMAS_TO_CONTRADICT = 3;
const HALF = 0.5;
/** Whole runs further off than this are not taken for scatter, dB. */
const MOST_RUN_GAIN_DB = 0.8;
/** A measured step is counted with where its uncertainty is less than this share of it, or where it differs for certain. */
const SURE_STEP = 0.05;
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
  /** By rung: what all bands together have lost, dB; 0 where that may be chance, null where it is not known. */
  commonLossDb: (number | null)[];
  /** By rung: whether the bands that do not compress arrive there as they should. */
  straight: boolean[];
  /** Standard error of the slope. */
  slopeError: number;
  /** Standard deviation of whole runs; null where too few rungs tell. */
  repeatScatterDb: number | null;
  /** How many rungs the slope rests on; 0 where what was found is no step. */
  rungs: number;
}

/**
 * Measure the true step: slope of the common gain over commanded drive where nothing compresses, with its uncertainty
 * (95 %).
 *
 * @param driveDb commanded, above the lowest rung. @param gains of the bands that do not compress.
 * @param commandedDb the usual step.
 *
 * Notes: Student's t for the few degrees of freedom that rungs give. A loss that all bands share and that grows with
 * drive (heat, soft limiting all over) is fitted along, and is no part of what single runs are off by. One that has grown
 * in proportion to drive from the lowest rung on cannot be told from a smaller step. Before it is measured a step is
 * taken to be right within 10 % (standard deviation): that draws in slopes that few rungs determine badly, no others.
 */
export function checkStep(driveDb: number[], gains: CommonGains, commandedDb: number): StepCheck {
  let joined = gains.gainDb.flatMap((gain, rung) => (Number.isFinite(gain) ? [rung] : []));
  if (joined.length < 2) return notMeasured(driveDb, commandedDb);
  const known = joined;
  const fitJoined = () =>
    fitSharedGain(
      joined.map((rung) => driveDb[rung]),
      joined.map((rung) => gains.gainDb[rung]),
      joined.map((rung) => joined.map((other) => gains.covariance[rung][other])),
    );
  let shared = fitJoined();
  while (joined.length > RUNGS_TO_KEEP && shared.line.lossDb[joined.length - 1] > MOST_LOSS_DB) {
    joined = joined.slice(0, -1);
    shared = fitJoined();
  }
  const { line, freedom, scatterDb, bent } = shared;
  const { slope, slopeError } = expectNear(1, shared);
  if (slope < PLAUSIBLE[0] || slope > PLAUSIBLE[1]) return notMeasured(driveDb, commandedDb);
  const measuredDb = slope * commandedDb;
  const uncertaintyDb = Math.max(LEAST_UNCERTAINTY_DB, studentT(freedom) * slopeError * commandedDb);
  const other = otherwise(
    joined.map((rung) => driveDb[rung]),
    joined.map((rung) => gains.gainDb[rung]),
    line.squares,
  );
  const differs = Math.abs(measuredDb - commandedDb) > uncertaintyDb && !other.explains;
  const losing = [...joined, ...risingAfter(joined, known, driveDb, gains.gainDb)];
  const { lossDb } = otherwise(
    losing.map((rung) => driveDb[rung]),
    losing.map((rung) => gains.gainDb[rung]),
    line.squares,
  );
  const commonLossDb: (number | null)[] = driveDb.map(() => null);
  if (!differs)
    losing.forEach((rung, i) => {
      commonLossDb[rung] = lossDb[i];
    });
  const enough = joined.length >= RUNGS_FOR_SCATTER;
  const scatter = enough ? scatterDb : EXPECTED_SCATTER_DB;
  const runGainDb = driveDb.map(() => 0);
  const runErrorDb = driveDb.map(() => scatter);
  const straight = driveDb.map(() => false);
  joined.forEach((rung, i) => {
    if (differs) commonLossDb[rung] = bent ? line.lossDb[i] : 0;
    straight[rung] = line.lossDb[i] <= STRAIGHT_DB;
    if (!enough || scatter < LEAST_SCATTER_DB) return;
    const gain = gains.gainDb[rung] - line.offset - line.slope * driveDb[rung] + line.lossDb[i];
    // the more of it is noise, the less of it is believed
    const believed = scatter ** 2 / (scatter ** 2 + Math.max(0, gains.covariance[rung][rung]));
    runGainDb[rung] = believed * gain;
    // a loss that sets in at the top and a run that is off there look the same
    if (straight[rung]) runErrorDb[rung] = scatter * Math.sqrt(1 - believed);
  });
  return {
    step: {
      commandedDb,
      measuredDb,
      uncertaintyDb: differs ? uncertaintyDb : Math.max(uncertaintyDb, Math.abs(measuredDb - commandedDb)),
      differs,
    },
    slope,
    runGainDb,
    runErrorDb,
    commonLossDb,
    straight,
    slopeError,
    repeatScatterDb: enough ? scatterDb : null,
    rungs: joined.length,
  };
}

/**
 * A step differs only where it explains the gains better than a slip does, and than steps as commanded with a common loss do; of few rungs, to which no loss is fitted along, by so many. Set on simulated ladders of 3 to 12 rungs whose runs scatter by
 * 0.1 dB: common loss is taken for a step of its own in one of a hundred, and steps of 2.9 dB for 3 dB are found.
 */
const SIGMAS_2 = 4;
/** A common loss counts where it explains so many squared sigmas, and from this on, dB. */
const SHOWN = 9;
const LEAST_LOSS_DB = 0.15;

/** Rungs above those that the step was measured on, up to where less than half of a step arrives: that is a limit. */
function risingAfter(joined: number[], known: number[], driveDb: number[], gainDb: number[]): number[] {
  const last = joined[joined.length - 1];
  const above = known.filter((rung) => rung > last);
  const end = above.findIndex((rung, i) => {
    const below = above[i - 1] ?? last;
    return gainDb[rung] - gainDb[below] < HALF * (driveDb[rung] - driveDb[below]);
  });
  return end < 0 ? above : above.slice(0, end);
}

/** What else than a step that differs may be behind the gains of some rungs; `bentSquares`: misfit of that step with a loss. */
function otherwise(x: number[], gainDb: number[], bentSquares: number): { explains: boolean; lossDb: number[] } {
  const off = gainDb.map((gain, i) => gain - x[i]);
  const loss = fitCommonLoss(x, off);
  const line = squaresOfLine(x, off);
  const varianceOf = (squares: number) => (squares + 2 * EXPECTED_SCATTER_DB ** 2) / x.length;
  const few = x.length < RUNGS_FOR_SCATTER;
  const slips = shiftAt(off).squares < line + (few ? SIGMAS_2 * varianceOf(line) : 0);
  const loses = loss.squares < (few ? line + SIGMAS_2 * varianceOf(line) : bentSquares);
  const explains = x.length > 2 && (slips || loses);
  const mean = off.reduce((sum, value) => sum + value, 0) / off.length;
  const without = off.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const shown = x.length > 2 && without - loss.squares > SHOWN * varianceOf(loss.squares);
  return { explains, lossDb: loss.lossDb.map((db) => (shown && db > LEAST_LOSS_DB ? db : 0)) };
}

/** Weigh a measured slope against what was to be expected; one that was measured well, or contradicts, stays as it is. */
function expectNear(expected: number, { slope, slopeError }: { slope: number; slopeError: number }) {
  if (Math.abs(slope - expected) > SIGMAS_TO_CONTRADICT * Math.hypot(EXPECTED_ERROR, slopeError))
    return { slope, slopeError };
  const weight = EXPECTED_ERROR ** 2 / (EXPECTED_ERROR ** 2 + slopeError ** 2);
  return { slope: expected + weight * (slope - expected), slopeError: slopeError * Math.sqrt(weight) };
}

function notMeasured(driveDb: number[], commandedDb: number): StepCheck {
  return {
    step: { commandedDb, measuredDb: null, uncertaintyDb: null, differs: null },
    slope: 1,
    runGainDb: driveDb.map(() => 0),
    runErrorDb: driveDb.map(() => EXPECTED_SCATTER_DB),
    commonLossDb: driveDb.map(() => null),
    straight: driveDb.map(() => false),
    slopeError: 1,
    repeatScatterDb: null,
    rungs: 0,
  };
}

/** Whether runs scatter as repeats do: a run far off the others is a mistake or a limit, and is shown as it is. */
export function areAlike({ runGainDb }: StepCheck): boolean {
  return runGainDb.every((db) => Math.abs(db) <= MOST_RUN_GAIN_DB);
}

/** Whether a step is known well enough to be counted with over a whole ladder. */
export function isSure({ step }: StepCheck): boolean {
  if (step.uncertaintyDb === null) return false;
  return step.differs === true || step.uncertaintyDb <= SURE_STEP * step.commandedDb;
}

/** The same check with every run left as it was measured. */
export function withoutRunGains(check: StepCheck): StepCheck {
  // one run far off says nothing of how the others repeat
  const scatter = areAlike(check) ? (check.repeatScatterDb ?? Math.max(...check.runErrorDb)) : EXPECTED_SCATTER_DB;
  return { ...check, runGainDb: check.runGainDb.map(() => 0), runErrorDb: check.runErrorDb.map(() => scatter) };
}
