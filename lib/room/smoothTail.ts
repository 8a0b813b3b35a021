import type { ClosedAxis, TransverseTerms } from './transverseTerms';

/** A sum of evanescent terms as a polynomial in the squared wave number: c_m of sum c_m T_m(k^2 / radius). */
export interface SmoothTail {
  radius: number;
  coefficients: Float64Array;
}

const NODES = 14;

/**
 * Sum evanescent terms once for all frequencies of a block, as a Chebyshev series in the squared wave number.
 *
 * @param terms transverse modes whose squared wave numbers are all at least 4 `radius`.
 * @param axis the closed-form axis. @param radius greatest |k^2| at which the series will be asked for, 1/m^2.
 *
 * Notes: each term is analytic in k^2 but for poles at or beyond its own squared wave number, so the coefficients fall
 * by 4 + sqrt(15) = 7.87 each, while a Chebyshev polynomial grows by 1 + sqrt(2) at most inside the unit circle:
 * the error is below 0.31^14, some 1e-7, of the tail.
 */
export function fitSmoothTail(terms: TransverseTerms, axis: ClosedAxis, radius: number): SmoothTail {
  const node = Array.from({ length: NODES }, (_, i) => Math.cos((Math.PI * (i + 0.5)) / NODES));
  const value = node.map((x) => sumAt(terms, axis, x * radius));
  const coefficients = Float64Array.from(node, (_, m) => {
    let sum = 0;
    for (let i = 0; i < NODES; i++) sum += value[i] * Math.cos((Math.PI * m * (i + 0.5)) / NODES);
    return ((m === 0 ? 1 : 2) * sum) / NODES;
  });
  return { radius, coefficients };
}

/** Value of the series at a complex squared wave number (Clenshaw's recurrence). */
export function smoothTailAt({ radius, coefficients }: SmoothTail, re: number, im: number): [re: number, im: number] {
  const x = re / radius;
  const y = im / radius;
  let [aRe, aIm, bRe, bIm] = [0, 0, 0, 0];
  for (let m = coefficients.length - 1; m > 0; m--) {
    const nextRe = 2 * (x * aRe - y * aIm) - bRe + coefficients[m];
    const nextIm = 2 * (x * aIm + y * aRe) - bIm;
    [bRe, bIm, aRe, aIm] = [aRe, aIm, nextRe, nextIm];
  }
  return [x * aRe - y * aIm - bRe + coefficients[0], x * aIm + y * aRe - bIm];
}

function sumAt({ squared, weight }: TransverseTerms, axis: ClosedAxis, k2: number): number {
  const apart = axis.highM - axis.lowM;
  const low = 2 * axis.lowM;
  const high = 2 * (axis.lengthM - axis.highM);
  let sum = 0;
  for (let i = 0; i < squared.length; i++) {
    const g = Math.sqrt(squared[i] - k2);
    const e0 = Math.exp(-g * apart);
    const e1 = Math.exp(-g * low);
    const e2 = Math.exp(-g * high);
    sum += (weight[i] * e0 * (1 + e1) * (1 + e2)) / (2 * g * (1 - e0 * e0 * e1 * e2));
  }
  return sum;
}
