import type { Step } from './step';

export type { Interval } from './interval';

/** What a run is: which unit, in which switch position, driven how hard, measured where and how. */
export interface About {
  device?: string;
  setting?: string;
  /** Drive of this run in dB; only differences between runs matter. */
  driveDb?: number;
  position?: string;
  distanceM?: number;
  /** ISO 8601. */
  takenAt?: string;
  /** Name of the fixed way of measuring that was followed. */
  procedure?: string;
}

/** A level over frequency. Columns are of equal length; frequencies are > 0 and strictly rising. */
export interface Curve {
  kind: 'curve';
  /** 'harmonic': level of a harmonic re the fundamental, over the frequency of the fundamental. */
  role: 'response' | 'noise' | 'correction' | 'harmonic';
  /** Which harmonic, 2 or more; only of harmonics. */
  order?: number;
  /** Hash of frequencies, levels and phases: the same numbers are the same measurement. */
  id: string;
  label: string;
  frequencyHz: number[];
  /** dB re 20 uPa where `scale` is 'spl', dB re an unknown constant otherwise. */
  levelDb: number[];
  /** Degrees; delay is falling phase (exp(+jwt)). */
  phaseDeg?: number[];
  /** Level of the noise alone in the same bins and on the same scale. */
  noiseDb?: number[];
  scale: 'spl' | 'relative';
  about: About;
  steps: Step[];
}

/** A sound, kept as a WAV file in memory. */
export interface Recording {
  kind: 'recording';
  role: 'capture' | 'stimulus' | 'impulse' | 'programme';
  id: string;
  label: string;
  wav: Uint8Array;
  sampleRateHz: number;
  channels: number;
  seconds: number;
  about: About;
  steps: Step[];
}

export type Measurement = Curve | Recording;
