import type { Room } from '../room/room';

/** A second-order high-pass: natural frequency and quality. */
export interface HighPass {
  f0Hz: number;
  q: number;
}

/** What a position of the unit's switch does to the signal, ahead of the limiter. */
export type Equaliser =
  | { kind: 'flat' }
  /** `gainDb` far below `hz`, half of it (in dB) at `hz`, nothing far above; `q` only of order 2, default 0.707. */
  | { kind: 'shelf'; hz: number; gainDb: number; order: 1 | 2; q?: number }
  | ({ kind: 'high-pass' } & HighPass)
  /** One after the other. */
  | { kind: 'chain'; stages: Equaliser[] };

/** How a unit stops growing: all levels are those at 1 m in free field. */
export interface LimiterSpec {
  /** What excursion allows at 20 Hz; it rises by 12 dB per octave ... */
  excursionAt20HzDb: number;
  /** ... up to what the amplifier allows. */
  amplifierDb: number;
  /** Width of the knee around the ceiling, in dB of drive; small is sharp, large is gradual. */
  kneeDb: number;
  /** dB that still arrive for each dB of drive far above the knee; 0 is a wall. */
  slope: number;
  /** A protective limiter in the bottom: below `belowHz` the ceiling lies `offsetDb` lower and has a knee of its own. */
  guard?: { belowHz: number; offsetDb: number; kneeDb: number };
}

/** The loudspeaker. */
export interface UnitSpec {
  device: string;
  /** One section: a sealed box, 12 dB per octave. Two: a vented box, 24 dB per octave. */
  highPass: [HighPass] | [HighPass, HighPass];
  /** Butterworth. */
  lowPass: { hz: number; order: 2 | 4 };
  /** Level at 1 m in free field well inside the pass band, at the lowest rung. */
  sensitivityDb: number;
  /** None: the unit stays linear however hard it is driven. */
  limiter?: LimiterSpec;
  /** Drive above the lowest rung at which heat in the coil has taken 4.2 dB (its resistance is up by 62 %); none: stays cool. */
  heatDriveDb?: number;
}

/** Where the microphone's reading departs from the truth, smooth over frequency. */
export interface MicrophoneSpec {
  /** Its own first-order low end. */
  lowEndHz: number;
  /** Waves over log frequency: peak deviation, how many octaves a wave spans, where in it 20 Hz lies (radians). */
  waves: { db: number; octaves: number; phase: number }[];
  /** Points per octave of the correction file. */
  correctionPointsPerOctave: number;
  /** What the correction file fails to undo. */
  residual?: { db: number; octaves: number; phase: number };
}

/** Noise at the microphone, on the scale of the response and in its bins: complex Gaussian, independent from bin to bin. */
export interface NoiseSpec {
  at20HzDb: number;
  /** Negative: falls with frequency. */
  slopeDbPerOctave: number;
  /** Lines at the mains frequency and its double, `db` above the floor at the first, half a hertz wide. */
  hum?: { hz: number; db: number };
}

export type GridSpec =
  | { kind: 'log'; startHz: number; endHz: number; pointsPerOctave: number }
  | { kind: 'linear'; startHz: number; endHz: number; stepHz: number };

/** A whole virtual bench, as plain JSON: everything that decides the numbers it gives. */
export interface RigSpec {
  seed: number;
  unit: UnitSpec;
  /** The switch positions, first is where the others are compared to. */
  settings: { name: string; equaliser: Equaliser }[];
  /** Number of drive levels, what a step is called and what it really is, dB. */
  drive: { rungs: number; commandedStepDb: number; trueStepDb: number };
  /** None: free field, at `distanceM`. */
  room?: Room;
  /** Only in free field; a room knows where its microphone stands. */
  distanceM?: number;
  microphone?: MicrophoneSpec;
  noise?: NoiseSpec;
  /** Standard deviations from run to run, dB: of the whole curve, and of smooth waves over frequency. */
  scatter: { gainDb: number; shapeDb: number };
  grid: GridSpec;
}
