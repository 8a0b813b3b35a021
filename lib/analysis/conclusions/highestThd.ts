import type { Distortion, SettingConclusion } from '../../model/findings';
import { nominalHz } from '../../model/octaves';

/** The loudest run most of whose THD can be trusted and whose capture is not bad; without one, the most trusted; -1 where no THD is known. */
export function loudestTrustedRung({ thdPercent, trusted }: Distortion, bad: boolean[]): number {
  const known = thdPercent.map((row) => row.filter((value) => value !== null).length);
  const sure = trusted.map((row, k) => row.filter((ok, band) => ok && thdPercent[k][band] !== null).length);
  for (let k = sure.length - 1; k >= 0; k--) if (known[k] > 0 && !bad[k] && sure[k] >= known[k] / 2) return k;
  const most = Math.max(...sure);
  if (most > 0) return sure.lastIndexOf(most);
  return known.findLastIndex((count) => count > 0);
}

/**
 * Find the highest THD of the loudest run that tells, and the strongest harmonic of it.
 *
 * @param bad by rung, whether it comes from a bad capture. @returns null where no THD can be trusted.
 */
export function highestThd(distortion: Distortion, bad: boolean[]): SettingConclusion['highestThd'] {
  const rung = loudestTrustedRung(distortion, bad);
  if (rung < 0 || bad[rung]) return null;
  const { bandsHz, thdPercent, trusted, harmonics, rungs } = distortion;
  const known = bandsHz.flatMap((_, band) => {
    const percent = trusted[rung][band] ? thdPercent[rung][band] : null;
    return percent === null ? [] : [{ band, percent }];
  });
  if (known.length === 0) return null;
  const { band, percent } = known.reduce((a, b) => (b.percent > a.percent ? b : a));
  const levels = harmonics.flatMap(({ order, levelDb }) => {
    const level = levelDb[rung][band];
    return level === null ? [] : [{ order, level }];
  });
  const order = levels.length > 0 ? levels.reduce((a, b) => (b.level > a.level ? b : a)).order : null;
  const { curve, driveDb } = rungs[rung];
  return { curve, driveDb, bandHz: nominalHz(bandsHz[band]), percent, order };
}
