import type { RigSpec } from '../rigSpec';

/**
 * What the excursion of the cone does to the sound: a static curve F(e) = e + c2 e^2 + c3 e^3 + ..., e = 1 at the peak
 * of a tone that reaches the limit.
 */
export interface NonlinearitySpec {
  /** Level at 1 m, dB, of a steady 20 Hz tone that reaches the limit; a sealed unit's follows by 12 dB per octave. */
  excursionAt20HzDb: number;
  /** c2, c3, c4, c5 and so on. Far below the limit, harmonic n falls by n - 1 dB for each dB of drive less. */
  coefficients: number[];
  /** Excursion, in limits, at which the cone meets its stop: e is bent to stay below. None: it never does. */
  stopAt?: number;
}

/** How one band of a limiter holds back: all levels are those of a steady tone. */
export interface BandLimiterSpec {
  /** Width of the knee around the ceiling, dB. */
  kneeDb: number;
  /** dB that still arrive for each dB of drive far above the knee; 0, where left out, is a wall. */
  slope?: number;
  /** Time constants of the loss in dB, s: while it grows, while it falls. */
  attackS: number;
  releaseS: number;
}

/** A limiter of two bands ahead of the driver; either may be left out. */
export interface SoundLimiterSpec {
  /** Where the bands meet, Hz; a protective limiter guards what is below. */
  crossoverHz: number;
  /** Ceiling of the excursion: level at 1 m, dB, that it gives a steady tone at 20 Hz. */
  bottom?: BandLimiterSpec & { excursionAt20HzDb: number };
  /** Ceiling of the amplifier: level at 1 m, dB, that it gives a steady tone well inside the pass band. */
  top?: BandLimiterSpec & { amplifierDb: number };
}

/** What records, and what goes wrong with it; everything left out is perfect. */
export interface RecorderSpec {
  /** The stimulus's own where left out. */
  sampleRateHz?: number;
  /** 16 or 24 bits, or 32 for float; 24 where left out. */
  bits?: 16 | 24 | 32;
  /** Sound pressure level of a sine whose peak is digital full scale, dB re 20 uPa; 120 where left out. */
  fullScaleDb?: number;
  /** Delay of player and recorder together, ms. */
  latencyMs?: number;
  /** When recording starts after the player starts, s; negative: earlier. */
  startS?: number;
  /** How long the recording goes on after the stimulus has ended, s; 0.5 where left out. */
  tailS?: number;
  /** The recording breaks off after so many seconds. */
  truncateAfterS?: number;
  /** How much faster the recorder's clock runs than the player's, parts per million. */
  clockPpm?: number;
  /** Lines the input picks up, dB re a full-scale sine. */
  hum?: { frequencyHz: number; levelDb: number }[];
  /** The input turned up by so much (hum as well), dB. */
  inputGainDb?: number;
  /** Where the input clips, dBFS, 0 or less; 0 where left out. */
  railDbfs?: number;
  /** The recording made quieter after it was taken, and perhaps clipped, dB. */
  attenuationDb?: number;
  /** 1, or more of which the others are silent; 1 where left out. */
  channels?: number;
}

/** A virtual bench that plays and records sound, as plain JSON. `unit.limiter` and `grid` are those of curves and do nothing here. */
export interface SoundRigSpec extends RigSpec {
  /** Level of a steady tone in the stimulus that makes `unit.sensitivityDb` at the lowest drive, dBFS; -12 where left out. */
  referenceDbfs?: number;
  /** None: the unit is linear. */
  nonlinearity?: NonlinearitySpec;
  /** None: nothing is held back. */
  soundLimiter?: SoundLimiterSpec;
  /** Phase of the microphone's waves over frequency: 'minimum' where left out, 'zero' adds none. Its low end is always minimum phase. */
  microphonePhase?: 'minimum' | 'zero';
  recorder?: RecorderSpec;
}
