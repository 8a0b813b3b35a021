import { type Cells, column } from '../cells';
import type { StepCheck } from '../gains/checkStep';
import type { CommonGains } from '../gains/commonGains';

/** What may be missing from a step that counts as arrived in full, dB; more where chance may take more ... */
const MISSING_DB = 0.25;
const SIGMAS = 2.5;
/** ... but a step that may miss more than this by chance tells nothing as long as it does not, dB. */
const TELLING_DB = 0.75;
/** Rungs below the reference tell something from this signal-to-noise ratio on, dB ... */
const BELOW_SNR_DB = 10;
/** ... and enough by themselves when together they are as certain as this (standard deviation), dB. */
const BELOW_ERROR_DB = 0.2;
/** A measured step further than this from the commanded one may be compression of all bands. */
const PLAUSIBLE_SHARE = 0.1;

/** 'proven': the reference rung has lost nothing; 'short': it may have; 'top': no step above it tells; 'none': no such rung. */
export type Proof = 'proven' | 'short' | 'top' | 'none';

/**
 * Find out, band by band, whether the reference rung has lost nothing yet.
 *
 * @param cells with evened runs and the drive to be counted with. @param share of that drive that arrives, as measured.
 *
 * Notes: the first step above the reference must arrive in full, to 0.25 dB or 2.5 standard deviations (noise, scatter of
 * runs); where noise leaves a step to chance, the next one that tells decides, since what arrives in full higher up has lost nothing
 * below. The reference must also not fall short of what the rungs below it (10 dB signal-to-noise ratio) let expect; where those are
 * certain to 0.2 dB they suffer a short step above: limiting then begins right at the reference.
 */
export function proveReferences(
  cells: Cells,
  references: (number | null)[],
  gains: CommonGains,
  check: StepCheck,
  share: number,
): Proof[] {
  const believed = check.step.differs && Math.abs(share - 1) <= PLAUSIBLE_SHARE;
  const expected = believed ? Math.min(1, share) : 1;
  return references.map((from, band) => {
    if (from === null) return 'none';
    if ((check.commonLossDb[from] ?? 0) > MISSING_DB) return 'short';
    const levels = column(cells.levelDb, band).map((level, rung) => level - expected * cells.driveDb[rung]);
    const variances = column(cells.errorDb, band).map(
      (error, rung) => (error || 0) ** 2 + check.runErrorDb[rung] ** 2 + gains.cellScatterDb ** 2,
    );
    const below = weightedMean(
      levels.flatMap((value, rung) =>
        rung < from && cells.snrDb[rung][band] >= BELOW_SNR_DB ? [{ value, variance: variances[rung] }] : [],
      ),
    );
    const missingBelow = below.value - levels[from];
    const deviation = Math.sqrt(below.variance + variances[from]);
    if (missingBelow > Math.max(MISSING_DB, SIGMAS * deviation)) return 'short';
    const step = firstTellingStep(levels, variances, from);
    if (step === null) return 'top';
    if (step.missingDb <= step.allowedDb) return 'proven';
    return deviation <= BELOW_ERROR_DB && missingBelow <= MISSING_DB ? 'proven' : 'short';
  });
}

function firstTellingStep(levels: number[], variances: number[], from: number) {
  for (let rung = from + 1; rung < levels.length; rung++) {
    const chance = SIGMAS * Math.sqrt(variances[rung - 1] + variances[rung]);
    const missingDb = levels[rung - 1] - levels[rung];
    const allowedDb = Math.max(MISSING_DB, chance);
    if (!Number.isFinite(missingDb)) continue;
    if (chance <= TELLING_DB || missingDb > allowedDb) return { missingDb, allowedDb };
  }
  return null;
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
