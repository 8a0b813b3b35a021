import type { Curve } from '../../model/curve';
import type { CaptureQuality } from '../../model/findings';
import { bandAround, thirdOctaveCentres } from '../../model/octaves';
import { TRUSTED_SNR_DB } from '../../response/caveatsFor';
import { powerIntegral } from '../../response/powerIntegral';
import { snrDb } from '../../response/snrDb';
import { makeRefusal } from '../../words/makeRefusal';
import { median } from '../fitting/median';

/**
 * Compare two takes of the same run, band by band.
 *
 * @param a the take in question. @param b the other one, of the same scale.
 * @returns label of the other take; the largest difference of third-octave levels (dB, without sign), the centre of its
 * band (Hz), and the median of the differences of all bands.
 * @throws BassloomError `mixed-curves` where one is SPL and the other is not; `takes-no-band` where no band of both can
 * be trusted.
 *
 * Notes: exact base-10 third octaves that lie inside both curves, power means. Bands in which a take stands less than
 * 10 dB above its noise are left out; where no noise is known, all count.
 *
 * @example
 * compareTakes(makeCurve({ frequencyHz: [20, 80], levelDb: [80, 80] }), makeCurve({ frequencyHz: [20, 80], levelDb: [80.2, 80.2] }))
 * // { take: 'curve', worstDb: 0.2, atHz: 25.1, medianDb: 0.2 }
 */
export function compareTakes(a: Curve, b: Curve): NonNullable<CaptureQuality['repeatability']> {
  if (a.scale !== b.scale) {
    const values = { a: a.label, b: b.label, differ: 'scale', to: 'compare takes' } as const;
    throw makeRefusal('mixed-curves', values, { field: 'scale' });
  }
  const low = Math.max(a.frequencyHz[0], b.frequencyHz[0]);
  const high = Math.min(a.frequencyHz[a.frequencyHz.length - 1], b.frequencyHz[b.frequencyHz.length - 1]);
  const [levelA, levelB] = [trustedLevels(a), trustedLevels(b)];
  const differences: { db: number; hz: number }[] = [];
  for (const hz of thirdOctaveCentres(low, high)) {
    const db = Math.abs(levelB(hz) - levelA(hz));
    if (Number.isFinite(db)) differences.push({ db, hz });
  }
  if (differences.length === 0) {
    throw makeRefusal('takes-no-band', { a: a.label, b: b.label, snrDb: TRUSTED_SNR_DB });
  }
  const worst = differences.reduce((most, band) => (band.db > most.db ? band : most));
  return { take: b.label, worstDb: worst.db, atHz: worst.hz, medianDb: median(differences.map(({ db }) => db)) };
}

/** Level of a third octave; NaN where the noise is too near. */
function trustedLevels({ frequencyHz, levelDb, noiseDb }: Curve): (hz: number) => number {
  const level = powerIntegral(frequencyHz, levelDb);
  const noise = noiseDb && powerIntegral(frequencyHz, noiseDb);
  return (hz) => {
    const [low, high] = bandAround(hz, 3);
    const at = level.meanDb(low, high);
    const snr = noise && snrDb({ levelDb: [at], noiseDb: [noise.meanDb(low, high)] });
    return snr && !(snr[0] >= TRUSTED_SNR_DB) ? Number.NaN : at;
  };
}
