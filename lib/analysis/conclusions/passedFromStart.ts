import type { Distortion } from '../../model/findings';

type Pass = Distortion['passes'][number];

/** Whether a band is above a percentage already at the lowest rung that tells: it may have passed at any drive below. */
export function passedFromStart({ rungs, thdPercent, trusted }: Distortion, pass: Pass, band: number): boolean {
  const drive = pass.driveDb[band];
  if (!pass.reached[band] || drive === null) return false;
  // A crossing between two rungs lies at neither of them.
  const at = rungs.findIndex(({ driveDb }) => driveDb - rungs[0].driveDb === drive);
  const percent = at < 0 ? null : thdPercent[at][band];
  const isClean = (rung: number): boolean => trusted[rung][band] && (thdPercent[rung][band] ?? Infinity) < pass.percent;
  return percent !== null && percent > pass.percent && !rungs.slice(0, at).some((_, rung) => isClean(rung));
}
