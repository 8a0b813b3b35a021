/**
 * Values of a spectrum between its bins, for a signal that stands round a known time.
 *
 * @param bins complex, real and imaginary parts in turn. @param binHz spacing, Hz.
 * @param centreS time round which the signal lies, s. @param frequencyHz where it is read, Hz.
 * @returns complex values, real and imaginary parts in turn.
 *
 * Notes: the bins are turned back by the centre's delay, so that neighbours differ little; six of them are then joined
 * by Lagrange's polynomial, and the delay is turned in again.
 */
export function readBins(
  bins: Float64Array,
  binHz: number,
  centreS: number,
  frequencyHz: ArrayLike<number>,
): Float64Array {
  const out = new Float64Array(2 * frequencyHz.length);
  const last = bins.length / 2 - 1;
  const turn = 2 * Math.PI * binHz * centreS;
  for (let i = 0; i < frequencyHz.length; i++) {
    const place = frequencyHz[i] / binHz;
    const first = Math.min(Math.max(Math.floor(place) - 2, 0), last - 5);
    let [re, im] = [0, 0];
    for (let k = first; k < first + 6; k++) {
      let weight = 1;
      for (let m = first; m < first + 6; m++) if (m !== k) weight *= (place - m) / (k - m);
      // only the turn between the bin and the place is needed
      const angle = turn * (k - place);
      const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
      re += weight * (bins[2 * k] * cos - bins[2 * k + 1] * sin);
      im += weight * (bins[2 * k] * sin + bins[2 * k + 1] * cos);
    }
    out[2 * i] = re;
    out[2 * i + 1] = im;
  }
  return out;
}
