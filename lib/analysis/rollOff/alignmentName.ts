import { butterworthQualities, highPassDb, type Section } from './highPassShape';

/** Quality up to which a second-order high-pass goes by a name; the names' own values are 0.5, 0.577 and 0.707. */
const SECOND_ORDER: [upTo: number, name: string][] = [
  [0.46, 'overdamped'],
  [0.54, 'critically damped'],
  [0.64, 'Bessel'],
  [0.76, 'Butterworth'],
  [Number.POSITIVE_INFINITY, 'Chebyshev-like, peaked'],
];
/** As good as Butterworth, dB from half the corner to four times it. */
const SAME_DB = 0.5;

/**
 * Name the alignment of a fitted high-pass in the words of the trade.
 *
 * @param sections of the high-pass. @param f0Hz where its asymptotes meet.
 * @returns for second order by Q (closed forms: critically damped 0.5, Bessel 1/sqrt 3, Butterworth 1/sqrt 2); for others
 * 'Butterworth' where it is within 0.5 dB of it, else whether it is peaked or drooping against that.
 *
 * @example
 * alignmentName([{ f0Hz: 30, q: 0.71 }], 30) // 'Butterworth'
 */
export function alignmentName(sections: readonly Section[], f0Hz: number): string {
  const order = sections.reduce((sum, { q }) => sum + (q === null ? 1 : 2), 0);
  if (order === 1) return 'first order';
  if (order === 2) return SECOND_ORDER.find(([upTo]) => sections[0].q! <= upTo)![1];
  const butterworth: Section[] = butterworthQualities(order).map((q) => ({ f0Hz, q }));
  if (order % 2) butterworth.push({ f0Hz, q: null });
  const off = Array.from({ length: 37 }, (_, i) => {
    const hz = 0.5 * f0Hz * 2 ** (i / 12);
    return highPassDb(sections, hz) - highPassDb(butterworth, hz);
  });
  const name = order === 4 ? 'vented' : `order ${order}`;
  const furthest = off.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a));
  if (Math.abs(furthest) <= SAME_DB) return 'Butterworth';
  return `${name}, ${furthest > 0 ? 'peaked' : 'drooping'}`;
}
