import type { Caveat } from '../../model/caveat';
import { makeCaveat } from '../../words/makeCaveat';
import { median } from '../fitting/median';
import type { Cells } from './cells';
import { isClear, TRUSTED_SNR_DB } from './read/isClear';
import { mattersOf } from './read/playedBands';
import type { Proof } from './read/proveReferences';
import type { ReferenceLevel } from './read/referenceLevels';

/** A band is stuck from the first step on where each of so many steps brings no more than this share of it. */
const STEPS = 3;
const STUCK_SHARE = 0.8;

/**
 * Say which bands suffer from noise and which have no rung to count from.
 *
 * @param cells of the rungs that are judged. @param played bands that come near the reference band.
 * @returns one caveat for each trouble, with its bands. That noise covers the quiet rungs is in the nature of a ladder and only
 * a remark; a reference that may be compressed itself is a doubt where the unit plays. Where several steps in a row fall short
 * from the first on, both readings are named: it limits already, or the drive did not rise.
 */
export function cellCaveats(cells: Cells, levels: ReferenceLevel[], proofs: Proof[], played: boolean[]): Caveat[] {
  const { bandsHz, driveDb, levelDb, snrDb } = cells;
  const unknown = (band: number) =>
    levelDb.some((row, k) => Number.isFinite(row[band]) && Number.isNaN(snrDb[k][band]));
  const buried = (band: number) => levelDb.some((row) => Number.isNaN(row[band]));
  const noisy = (band: number) => buried(band) || snrDb.some((row) => row[band] < TRUSTED_SNR_DB);
  const sure = (band: number) => levels[band].certain;
  const vague = (band: number) => proofs[band] !== 'none' && !sure(band) && !unknown(band);
  const shares = bandsHz.map((_, band) => stepShares(cells, band));
  const short = (band: number) => sure(band) && proofs[band] === 'short';
  const stuck = (band: number) =>
    short(band) && shares[band].length >= STEPS && shares[band].every((share) => share <= STUCK_SHARE);
  const judged = mattersOf(bandsHz, played);
  const matters = (band: number) => judged[band];
  const told = [
    ['ladder-noise-unknown-bands', 'doubt', unknown],
    ['ladder-near-noise', 'remark', noisy],
    ['ladder-no-reference', 'remark', (band: number) => proofs[band] === 'none'],
    ['ladder-few-points', 'remark', vague],
    ['ladder-no-step-above', 'remark', (band: number) => sure(band) && proofs[band] === 'top'],
    ['ladder-reference-short', 'doubt', (band: number) => short(band) && !stuck(band) && matters(band)],
    ['ladder-reference-short', 'remark', (band: number) => short(band) && !stuck(band) && !matters(band)],
  ] as const;
  const bandsOf = (test: (band: number) => boolean) => bandsHz.flatMap((_, band) => (test(band) ? [band] : []));
  const found = told.flatMap(([code, severity, test]) => {
    const bands = bandsOf(test).map((band) => bandsHz[band]);
    return bands.length > 0 ? [makeCaveat(code, severity, {}, { bandsHz: bands })] : [];
  });
  const fixed = bandsOf(stuck);
  if (fixed.length === 0) return found;
  const stepDb = median(driveDb.slice(1).map((drive, rung) => drive - driveDb[rung]));
  const raisedDb = stepDb * median(fixed.flatMap((band) => shares[band]));
  const severity = fixed.some(matters) ? 'doubt' : 'remark';
  const where = { bandsHz: fixed.map((band) => bandsHz[band]) };
  return [...found, makeCaveat('ladder-stuck', severity, { stepDb, raisedDb }, where)];
}

/** Share of each step that arrives, from the first clear level of a band up. */
function stepShares(cells: Cells, band: number): number[] {
  const { driveDb, levelDb } = cells;
  const clear = driveDb.flatMap((_, rung) => (isClear(cells, rung, band) ? [rung] : []));
  return clear
    .slice(1)
    .map((rung, i) => (levelDb[rung][band] - levelDb[clear[i]][band]) / (driveDb[rung] - driveDb[clear[i]]));
}
