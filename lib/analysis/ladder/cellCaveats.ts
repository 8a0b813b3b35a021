import { bandNames } from './bandNames';
import type { Cells } from './cells';
import { TRUSTED_SNR_DB } from './read/countCompression';
import type { Proof } from './read/proveReferences';
import type { ReferenceLevel } from './read/referenceLevels';

/**
 * Say which bands suffer from noise and which have no rung to count from.
 *
 * @returns one sentence for each trouble, with the bands it is about.
 */
export function cellCaveats({ bandsHz, levelDb, snrDb }: Cells, levels: ReferenceLevel[], proofs: Proof[]): string[] {
  const say = (test: (band: number) => boolean, sentence: (names: string) => string): string[] => {
    const bands = bandsHz.flatMap((_, band) => (test(band) ? [band] : []));
    return bands.length > 0 ? [sentence(bandNames(bandsHz, bands))] : [];
  };
  const unknown = (band: number) =>
    levelDb.some((row, k) => Number.isFinite(row[band]) && Number.isNaN(snrDb[k][band]));
  const buried = (band: number) => levelDb.some((row) => Number.isNaN(row[band]));
  const noisy = (band: number) => buried(band) || snrDb.some((row) => row[band] < TRUSTED_SNR_DB);
  const sure = (band: number) => levels[band].certain;
  return [
    say(unknown, (names) => `How strong the noise is at ${names} is not known; values there are untrusted.`),
    say(noisy, (names) => `Some rungs are less than 10 dB above the noise at ${names}; those values are untrusted.`),
    say(
      (band) => proofs[band] === 'none',
      (names) => `No rung reaches a signal-to-noise ratio of 20 dB at ${names}: compression there is unknown.`,
    ),
    say(
      (band) => proofs[band] !== 'none' && !sure(band) && !unknown(band),
      (names) => `At ${names} the points are too few for the noise: no rung is certain enough to count from.`,
    ),
    say(
      (band) => sure(band) && proofs[band] === 'top',
      (names) =>
        `At ${names} no step above the first loud enough rung tells whether it is compressed: compression there is untrusted.`,
    ),
    say(
      (band) => sure(band) && proofs[band] === 'short',
      (names) =>
        `At ${names} the first step above the reference rung does not arrive in full: ` +
        `compression there is 'at least' and untrusted.`,
    ),
  ].flat();
}
