import { type Cells, column, type Reference } from './cells';
import { ASSUMED_SCATTER_DB, type StepCheck } from './checkStep';
import type { CommonGains } from './commonGains';

/** What may be missing from a step that counts as arrived in full, dB; more where chance may take more. */
const MISSING_DB = 0.25;
const SIGMAS = 2.5;
/** Rungs below the reference tell something from this signal-to-noise ratio on, dB ... */
const BELOW_SNR_DB = 10;
/** ... and enough by themselves when together they are as certain as this (standard deviation), dB. */
const BELOW_ERROR_DB = 0.2;
/** A measured step further than this from the commanded one is taken for compression of all bands. */
const PLAUSIBLE_SLOPE = 0.1;
const OTHER_BANDS = 3;

/** 'proven': the reference rung has lost nothing; 'short': it may have; 'top': no rung above it can tell. */
export type Proof = 'proven' | 'short' | 'top' | 'none';

/**
 * Find out, band by band, whether the reference rung has lost nothing yet.
 *
 * @param scale drive that arrives for each dB commanded, by which compression is counted.
 *
 * Notes: the first step above the reference must arrive in full, to 0.25 dB or 2.5 standard deviations of noise and of
 * scatter from run to run; the reference must also not fall short of what the rungs below it (10 dB signal-to-noise
 * ratio at least) let expect. Where those are certain to 0.2 dB they suffer a short step above: limiting then begins
 * right at the reference. What a whole run is off by is taken out where at least three other bands tell.
 */
export function proveReferences(
  cells: Cells,
  references: Reference[],
  gains: CommonGains,
  check: StepCheck,
  scale: number,
): Proof[] {
  const share = check.slope / scale;
  const differs = check.step.differs && Math.abs(share - 1) <= PLAUSIBLE_SLOPE;
  const expected = differs ? Math.min(1, share) : 1;
  const runScatter = check.repeatScatterDb ?? ASSUMED_SCATTER_DB / 2;
  const runGain = (rung: number, band: number) => {
    const others = gains.active[rung].filter((on, other) => on && other !== band).length;
    const known = others >= OTHER_BANDS && Number.isFinite(check.runGainDb[rung]);
    return known
      ? { db: check.runGainDb[rung], variance: gains.cellScatterDb ** 2 }
      : { db: 0, variance: runScatter ** 2 };
  };
  return references.map(({ rung }, band) => {
    if (rung === null) return 'none';
    const levels = column(cells.levelDb, band).map(
      (level, k) => level - expected * cells.driveDb[k] - runGain(k, band).db,
    );
    const variances = column(cells.errorDb, band).map((error, k) => error ** 2 + runGain(k, band).variance);
    const above = levels.findIndex((level, k) => k > rung && Number.isFinite(level));
    if (above < 0) return 'top';
    const below = weightedMean(
      levels.flatMap((value, k) =>
        k < rung && cells.snrDb[k][band] >= BELOW_SNR_DB ? [{ value, variance: variances[k] }] : [],
      ),
    );
    const fromBelow = below.value - levels[rung];
    const deviation = Math.sqrt(below.variance + variances[rung]);
    if (fromBelow > Math.max(MISSING_DB, SIGMAS * deviation)) return 'short';
    const missing = levels[rung] - levels[above];
    if (missing <= Math.max(MISSING_DB, SIGMAS * Math.sqrt(variances[rung] + variances[above]))) return 'proven';
    return deviation <= BELOW_ERROR_DB && fromBelow <= MISSING_DB ? 'proven' : 'short';
  });
}

function weightedMean(parts: { value: number; variance: number }[]): { value: number; variance: number } {
  let weights = 0;
  let sum = 0;
  for (const { value, variance } of parts) {
    weights += 1 / variance;
    sum += value / variance;
  }
  return { value: sum / weights, variance: 1 / weights };
}
