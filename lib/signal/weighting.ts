import { makeRefusal } from '../words/makeRefusal';

export type Weighting = 'A' | 'C' | 'Z';

/** Pole frequencies in Hz, from the corner frequencies the standard states (IEC 61672-1:2013, annex E). */
const POLES = poles();

/**
 * Frequency weighting of a sound level meter at one frequency, relative to 1 kHz.
 *
 * @param weighting 'A', 'C' or 'Z' (none).
 * @param frequencyHz Hz, above 0.
 * @returns dB to add to the unweighted level: 0 at 1 kHz, -44.7 for A and -4.4 for C at 20 Hz.
 * @throws BassloomError `weighting-kind`, `weighting-frequency`.
 *
 * Notes: the analytic design goal, not the rounded table. A-weighting nearly removes what a subwoofer plays: use it
 * for exposure rules only, never to judge bass.
 *
 * Reference: IEC 61672-1:2013, 5.5 and annex E (formulas from memory).
 *
 * @example
 * weightingDb('A', 100) // -19.1
 */
export function weightingDb(weighting: Weighting, frequencyHz: number): number {
  if (!(frequencyHz > 0 && Number.isFinite(frequencyHz))) {
    throw makeRefusal('weighting-frequency', { hz: frequencyHz }, { field: 'frequencyHz' });
  }
  if (weighting === 'Z') return 0;
  if (weighting !== 'A' && weighting !== 'C') {
    throw makeRefusal('weighting-kind', { kind: weighting }, { field: 'weighting' });
  }
  return 20 * Math.log10(gain(weighting, frequencyHz) / gain(weighting, 1000));
}

function gain(weighting: 'A' | 'C', hz: number): number {
  const f2 = hz * hz;
  const c = f2 / ((f2 + POLES.lowest ** 2) * (f2 + POLES.highest ** 2));
  return weighting === 'C' ? c : (c * f2) / Math.sqrt((f2 + POLES.lower ** 2) * (f2 + POLES.higher ** 2));
}

function poles() {
  // -3 dB corners of C, the reference frequency, and the corner of the high-pass that makes A of C
  const [low, high, reference, a] = [10 ** 1.5, 10 ** 3.9, 1000, 10 ** 2.45];
  const d = Math.SQRT1_2;
  const c = (low * high) ** 2;
  const b = (reference ** 2 + c / reference ** 2 - d * (low ** 2 + high ** 2)) / (1 - d);
  const root = Math.sqrt(b * b - 4 * c);
  return {
    lowest: Math.sqrt((-b - root) / 2),
    highest: Math.sqrt((-b + root) / 2),
    lower: ((3 - Math.sqrt(5)) / 2) * a,
    higher: ((3 + Math.sqrt(5)) / 2) * a,
  };
}
