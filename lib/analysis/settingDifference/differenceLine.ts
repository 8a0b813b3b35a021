import type { Shape } from './shapes';

/** How a difference runs over frequency, as a smooth line through its samples. */
export interface DifferenceLine {
  /** What kind of change the shape is that fits; 'any' of a line that follows whatever was measured. */
  kind: Shape['kind'] | 'any';
  /** What the settings differ by where the switch does nothing, dB. */
  offsetDb: number;
  /** Difference beyond the offset, dB. */
  db(hz: number): number;
  /** Of `db` far below; null where there is none or none can be told. */
  asymptoteDb: number | null;
  /** Whether every shape that may be the true one has that asymptote. */
  agreed: boolean;
  /** How far it passes by the samples in the worst half octave, beyond chance, dB. */
  restDb: number;
}
