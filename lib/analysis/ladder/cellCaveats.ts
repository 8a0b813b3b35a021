import type { Caveat } from '../../model/caveat';
import { makeCaveat } from '../../words/makeCaveat';
import type { Cells } from './cells';
import { TRUSTED_SNR_DB } from './read/isClear';
import type { Proof } from './read/proveReferences';
import type { ReferenceLevel } from './read/referenceLevels';

/**
 * Say which bands suffer from noise and which have no rung to count from.
 *
 * @param cells of the rungs that are judged. @returns one caveat for each trouble, with its bands. That noise covers the
 * quiet rungs is in the nature of a ladder and only a remark; a reference that may be compressed itself is a doubt.
 */
export function cellCaveats({ bandsHz, levelDb, snrDb }: Cells, levels: ReferenceLevel[], proofs: Proof[]): Caveat[] {
  const unknown = (band: number) =>
    levelDb.some((row, k) => Number.isFinite(row[band]) && Number.isNaN(snrDb[k][band]));
  const buried = (band: number) => levelDb.some((row) => Number.isNaN(row[band]));
  const noisy = (band: number) => buried(band) || snrDb.some((row) => row[band] < TRUSTED_SNR_DB);
  const sure = (band: number) => levels[band].certain;
  const vague = (band: number) => proofs[band] !== 'none' && !sure(band) && !unknown(band);
  const told = [
    ['ladder-noise-unknown-bands', 'doubt', unknown],
    ['ladder-near-noise', 'remark', noisy],
    ['ladder-no-reference', 'remark', (band: number) => proofs[band] === 'none'],
    ['ladder-few-points', 'remark', vague],
    ['ladder-no-step-above', 'remark', (band: number) => sure(band) && proofs[band] === 'top'],
    ['ladder-reference-short', 'doubt', (band: number) => sure(band) && proofs[band] === 'short'],
  ] as const;
  return told.flatMap(([code, severity, test]) => {
    const found = bandsHz.filter((_, band) => test(band));
    return found.length > 0 ? [makeCaveat(code, severity, {}, { bandsHz: found })] : [];
  });
}
