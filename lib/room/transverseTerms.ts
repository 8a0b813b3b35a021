import type { PlacedRoom } from './room';

/** The transverse modes of a room across the axis that is summed in closed form. */
export interface TransverseTerms {
  /** Square of each transverse wave number, 1/m^2, and what its closed form is multiplied with. */
  squared: Float64Array;
  weight: Float64Array;
}

/** The closed-form axis: its length, and where the lower and higher of source and microphone stand on it, m. */
export interface ClosedAxis {
  index: number;
  lengthM: number;
  lowM: number;
  highM: number;
}

/** Choose the axis to sum in closed form: that of the largest separation, across which the rest decays fastest. */
export function chooseClosedAxis({ sizeM, source, microphone }: PlacedRoom): ClosedAxis {
  const apart = source.map((x, i) => Math.abs(x - microphone[i]));
  const index = apart.indexOf(Math.max(...apart));
  return {
    index,
    lengthM: sizeM[index],
    lowM: Math.min(source[index], microphone[index]),
    highM: Math.max(source[index], microphone[index]),
  };
}

/** Estimated number of transverse modes with a squared wave number below a limit. */
export function countTransverse({ sizeM }: PlacedRoom, axis: number, limit: number): number {
  const [a, b] = sizeM.filter((_, i) => i !== axis);
  return (a * b * limit) / (4 * Math.PI) + ((a + b) * Math.sqrt(limit)) / (2 * Math.PI) + 1;
}

/**
 * List the transverse modes with squared wave numbers in [from, to).
 * Weight: 4 pi e_p e_q / (a b) cos cos cos cos, with e = 1 for order 0 and 2 above.
 */
export function listTransverse(room: PlacedRoom, axis: number, from: number, to: number): TransverseTerms {
  const [p, q] = [0, 1, 2].filter((i) => i !== axis);
  const along = [p, q].map((i) => axisTerms(room.sizeM[i], room.source[i], room.microphone[i], to));
  const squared: number[] = [];
  const weight: number[] = [];
  const scale = (4 * Math.PI) / (room.sizeM[p] * room.sizeM[q]);
  for (const [first, firstWeight] of along[0]) {
    for (const [second, secondWeight] of along[1]) {
      const sum = first + second;
      if (sum >= to) break;
      if (sum < from) continue;
      squared.push(sum);
      weight.push(scale * firstWeight * secondWeight);
    }
  }
  return { squared: Float64Array.from(squared), weight: Float64Array.from(weight) };
}

function axisTerms(sideM: number, source: number, microphone: number, to: number): [number, number][] {
  const terms: [number, number][] = [];
  for (let n = 0; ; n++) {
    const k = (n * Math.PI) / sideM;
    if (k * k >= to) return terms;
    terms.push([k * k, (n === 0 ? 1 : 2) * Math.cos(k * source) * Math.cos(k * microphone)]);
  }
}
