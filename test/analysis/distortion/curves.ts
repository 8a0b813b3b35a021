import type { About, Curve } from '../../../lib/model/curve';
import { makeCurve } from '../../../lib/model/makeCurve';
import { deconvolved } from '../../deconvolved';

export type Law = (hz: number) => number;
const asLaw = (value: number | Law): Law => (typeof value === 'number' ? () => value : value);

export interface RunSpec {
  about?: About;
  frequencyHz?: number[];
  /** Level of the fundamental, dB. */
  level?: number | Law;
  noise?: number | Law;
  /** By order: level and noise of the harmonic, dB re the fundamental. */
  harmonics?: Record<number, [level: number | Law, noise?: number | Law]>;
  capture?: string;
  more?: Partial<Curve>;
}

/** Points on a logarithmic grid from 8 Hz to 128 Hz. */
export const logGrid = (perOctave = 24): number[] =>
  Array.from({ length: 4 * perOctave + 1 }, (_, i) => 8 * 2 ** (i / perOctave));

/** A response and its harmonics, as they come out of one capture. */
export function run({
  about = {},
  frequencyHz = logGrid(),
  level = 90,
  noise,
  harmonics = { 2: [-40, -90] },
  capture,
  more,
}: RunSpec = {}): Curve[] {
  const column = (value: number | Law) => frequencyHz.map(asLaw(value));
  const of = (value: number | Law | undefined) => value !== undefined && { noiseDb: column(value) };
  const steps = capture ? [deconvolved(capture)] : [];
  const common = { frequencyHz, about, steps, label: capture ?? `run at ${about.driveDb}`, ...more };
  return [
    makeCurve({ ...common, levelDb: column(level), ...of(noise) }),
    ...Object.entries(harmonics).map(([order, [ratio, itsNoise]]) =>
      makeCurve({ ...common, role: 'harmonic', order: Number(order), levelDb: column(ratio), ...of(itsNoise) }),
    ),
  ];
}
