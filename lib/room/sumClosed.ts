import type { ClosedAxis, TransverseTerms } from './transverseTerms';

/**
 * Sum transverse modes, each with its closed form along the remaining axis, at one complex squared wave number.
 *
 * @param terms squared wave numbers and weights. @param axis the closed-form axis.
 * @param kRe real and @param kIm imaginary part of k^2, 1/m^2; kIm < 0.
 *
 * Notes: with g = sqrt(q^2 - k^2), Re g > 0, a term is e0 (1 + e1)(1 + e2) / (2 g (1 - e0^2 e1 e2)), where e0, e1 and
 * e2 are exp(-g times) the separation, twice the distance from the near end and twice that from the far end.
 */
export function sumClosed(terms: TransverseTerms, axis: ClosedAxis, kRe: number, kIm: number): [number, number] {
  const { squared, weight } = terms;
  const apart = axis.highM - axis.lowM;
  const low = 2 * axis.lowM;
  const high = 2 * (axis.lengthM - axis.highM);
  const y = -kIm;
  let sumRe = 0;
  let sumIm = 0;
  for (let i = 0; i < squared.length; i++) {
    // a + j b = sqrt(x + j y); the half-angle form that does not cancel
    const x = squared[i] - kRe;
    const size = Math.sqrt(x * x + y * y);
    let a = Math.sqrt(0.5 * (size + Math.abs(x)));
    let b = y / (2 * a);
    if (x < 0) [a, b] = [b, a];
    const s0 = Math.exp(-a * apart);
    const s1 = Math.exp(-a * low);
    const s2 = Math.exp(-a * high);
    const r0 = s0 * Math.cos(b * apart);
    const i0 = -s0 * Math.sin(b * apart);
    const r1 = s1 * Math.cos(b * low);
    const i1 = -s1 * Math.sin(b * low);
    const r2 = s2 * Math.cos(b * high);
    const i2 = -s2 * Math.sin(b * high);
    const uRe = (1 + r1) * (1 + r2) - i1 * i2;
    const uIm = (1 + r1) * i2 + i1 * (1 + r2);
    const nRe = r0 * uRe - i0 * uIm;
    const nIm = r0 * uIm + i0 * uRe;
    // e0^2 e1 e2: there and back along the whole axis
    const tRe = r0 * r0 - i0 * i0;
    const tIm = 2 * r0 * i0;
    const wRe = r1 * r2 - i1 * i2;
    const wIm = r1 * i2 + i1 * r2;
    const vRe = 1 - (tRe * wRe - tIm * wIm);
    const vIm = -(tRe * wIm + tIm * wRe);
    const dRe = 2 * (a * vRe - b * vIm);
    const dIm = 2 * (a * vIm + b * vRe);
    const scale = weight[i] / (dRe * dRe + dIm * dIm);
    sumRe += scale * (nRe * dRe + nIm * dIm);
    sumIm += scale * (nIm * dRe - nRe * dIm);
  }
  return [sumRe, sumIm];
}
