/** Bins that are joined. */
const JOINED = 8;
/** Of Lagrange's polynomial through so many neighbours, by its barycentric form: (-1)^m over m! (7 - m)!, times 7!. */
const SHARES = Float64Array.of(1, -7, 21, -35, 35, -21, 7, -1);

/**
 * Values of a spectrum between its bins, for a signal that stands round a known time.
 *
 * @param bins complex, real and imaginary parts in turn. @param binHz spacing, Hz.
 * @param centreS time round which the signal lies, s. @param frequencyHz where it is read, Hz.
 * @returns complex values, real and imaginary parts in turn.
 *
 * Notes: the bins are turned back by the centre's delay, so that neighbours differ little; eight of them are then joined
 * by Lagrange's polynomial, and the delay is turned in again.
 *
 * Reference: J.-P. Berrut, L. N. Trefethen, SIAM Review 46 (2004) 501-517 (from memory).
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
  const [turnRe, turnIm] = [Math.cos(turn), Math.sin(turn)];
  for (let i = 0; i < frequencyHz.length; i++) {
    const place = frequencyHz[i] / binHz;
    const first = Math.min(Math.max(Math.floor(place) - JOINED / 2 + 1, 0), last - JOINED + 1);
    const angle = turn * (first - place);
    // only the turn between the bin and the place is needed, a step more for each bin
    let cos = Math.cos(angle);
    let sin = Math.sin(angle);
    let re = 0;
    let im = 0;
    let sum = 0;
    for (let m = 0; m < JOINED; m++) {
      const off = place - first - m;
      const at = 2 * (first + m);
      if (off === 0) {
        re = bins[at];
        im = bins[at + 1];
        sum = 1;
        break;
      }
      const share = SHARES[m] / off;
      re += share * (bins[at] * cos - bins[at + 1] * sin);
      im += share * (bins[at] * sin + bins[at + 1] * cos);
      sum += share;
      const turned = cos * turnRe - sin * turnIm;
      sin = cos * turnIm + sin * turnRe;
      cos = turned;
    }
    out[2 * i] = re / sum;
    out[2 * i + 1] = im / sum;
  }
  return out;
}
