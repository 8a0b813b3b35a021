import type { Cells } from '../cells';
import type { StepCheck } from '../gains/checkStep';
import type { CommonGains } from '../gains/commonGains';

/** A level that noise moves by no more than this is taken as it is, dB. */
const GOOD_ERROR_DB = 0.06;
/** Beyond this nothing is counted from it, dB. */
const WORST_ERROR_DB = 0.15;
const OTHER_BANDS = 3;

/** Level to count from in one band. */
export interface ReferenceLevel {
  levelDb: number;
  /** Standard deviation by noise, dB. */
  errorDb: number;
  certain: boolean;
}

/**
 * Find the level of each band's reference rung, with the help of the rungs above where noise makes it uncertain.
 *
 * @param cells with evened runs. @param references reference rung of each band.
 *
 * Notes: at 20 dB signal-to-noise ratio a third octave of sixteen points is uncertain by 0.15 dB, one of four by 0.3 dB, and
 * every compression of the band would carry that. The rungs above in which the band has lost nothing against the
 * others, less what those gained, say the same level with less noise; the weighted mean of all is taken.
 * Where less than 0.06 dB is at stake the rung speaks for itself.
 */
export function referenceLevels(
  cells: Cells,
  references: (number | null)[],
  gains: CommonGains,
  check: StepCheck,
): ReferenceLevel[] {
  return references.map((from, band) => {
    if (from === null) return { levelDb: Number.NaN, errorDb: Number.NaN, certain: false };
    const own = { levelDb: cells.levelDb[from][band], errorDb: cells.errorDb[from][band] };
    if (Number.isNaN(own.errorDb)) return { ...own, certain: false };
    if (own.errorDb <= GOOD_ERROR_DB) return { ...own, certain: true };
    let weights = 1 / own.errorDb ** 2;
    let sum = own.levelDb * weights;
    for (let rung = from + 1; rung < cells.driveDb.length && helps(gains, check, rung, band); rung++) {
      const variance = cells.errorDb[rung][band] ** 2 + check.runErrorDb[rung] ** 2 + gains.cellScatterDb ** 2;
      weights += 1 / variance;
      sum += (cells.levelDb[rung][band] - expectedGain(gains, check, from, rung)) / variance;
    }
    const errorDb = Math.sqrt(1 / weights);
    return { levelDb: sum / weights, errorDb, certain: errorDb <= WORST_ERROR_DB };
  });
}

/** A rung whose gain others tell, where nothing bends yet, and where the band keeps up still one rung further. */
function helps({ active }: CommonGains, { straight }: StepCheck, rung: number, band: number): boolean {
  const others = active[rung].filter((on, other) => on && other !== band).length;
  const keepsUp = rung + 1 < active.length ? active[rung + 1][band] : true;
  return active[rung][band] && keepsUp && others >= OTHER_BANDS && straight[rung];
}

/** What bands that do not compress gain between two rungs, run gains taken out. */
function expectedGain({ gainDb }: CommonGains, { runGainDb }: StepCheck, from: number, rung: number): number {
  return gainDb[rung] - runGainDb[rung] - (gainDb[from] - runGainDb[from]);
}
