import { levelOf } from '../../model/decibel';

/** What a fit of a roll-off is made of. */
export interface HighPassShape {
  /** Order of the high-pass, 1 to 6: one first-order section where odd, second-order ones for the rest. */
  order: number;
  /** An upper low-pass beside it: |H|^2 = 1 / (1 + 2k u^p + u^2p), u = (f/fc)^2, of order 2p; 0: none. */
  lowPass: 0 | 1 | 2 | 4;
  /** A straight tilt in dB per octave beside it. */
  tilt: boolean;
}

/** One section of a high-pass; q null where it is of first order. */
export interface Section {
  f0Hz: number;
  q: number | null;
}

/** Where the parameters of a shape stand: gain, first-order corner, (corner, q) of each pair, low-pass (corner, k), tilt. */
export function layoutOf({ order, lowPass, tilt }: HighPassShape) {
  const first = 1;
  const pairs = first + (order % 2);
  const low = pairs + 2 * (order >> 1);
  const slope = low + (lowPass ? 2 : 0);
  return { first, pairs, low, slope, size: slope + (tilt ? 1 : 0) };
}

/** Where the corners of the sections stand among the parameters. */
export function cornersOf(shape: HighPassShape): number[] {
  const { first, pairs, low } = layoutOf(shape);
  const corners = shape.order % 2 ? [first] : [];
  for (let k = pairs; k < low; k += 2) corners.push(k);
  return corners;
}

/** Sections of the high-pass in a list of parameters. */
export function sectionsOf(shape: HighPassShape, parameters: ArrayLike<number>): Section[] {
  const { first, pairs } = layoutOf(shape);
  const sections: Section[] = shape.order % 2 ? [{ f0Hz: Math.exp(parameters[first]), q: null }] : [];
  for (let n = 0; n < shape.order >> 1; n++) {
    sections.push({ f0Hz: Math.exp(parameters[pairs + 2 * n]), q: Math.exp(parameters[pairs + 2 * n + 1]) });
  }
  return sections;
}

/** Qualities of the pairs of a Butterworth high-pass: poles evenly spaced on a half circle (S. Butterworth, 1930). */
export function butterworthQualities(order: number): number[] {
  return Array.from({ length: order >> 1 }, (_, n) => 0.5 / Math.sin(((2 * n + 1) * Math.PI) / (2 * order)));
}

/** Level of a high-pass re its pass band, dB: each pair is w^2 / (1 + (1/q^2 - 2) w + w^2) of w = (f/f0)^2 turned over. */
export function highPassDb(sections: readonly Section[], hz: number): number {
  return sections.reduce((sum, { f0Hz, q }) => {
    const w = (f0Hz / hz) ** 2;
    return sum - levelOf(q === null ? 1 + w : 1 + (1 / q ** 2 - 2) * w + w * w);
  }, 0);
}
