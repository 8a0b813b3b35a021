import type { Caveat } from '../caveat';
import type { About, Curve, Recording } from '../curve';

/** Whether a capture can be trusted, and what to do where it cannot. */
export interface CaptureQuality {
  /** Id of the recording. */
  recording: string;
  label: string;
  about: About;
  /** 'bad': its curves are not to be used; 'doubtful': parts of them; `warnings` says which and why. */
  verdict: 'good' | 'doubtful' | 'bad';
  /** Samples at the rail, in runs; also of a recording that was made quieter after it clipped. */
  clippedSamples: number;
  /** Where clipping began, seconds into the recording; null where nothing clipped. */
  clippedAtS: number | null;
  /** Frequency that the sweep had reached when the capture ended; null where all of it was caught. */
  truncatedAtHz: number | null;
  /** Frequency that the sweep had reached when the capture began; null where its start was caught. */
  missedBelowHz: number | null;
  /** Mains hum and its multiples, where they stand out. dB re a full-scale sine, dB re 20 uPa where full scale is known. */
  humHz: { frequencyHz: number; levelDb: number }[];
  /** Largest sample, dB re full scale. */
  peakDbfs: number;
  /** Signal-to-noise ratio of the response as it comes out, per third-octave band (exact base-10 centres). */
  snrDb: { frequencyHz: number[]; db: number[] };
  /** How much faster the recorder's clock ran than the player's, parts per million, and its uncertainty (95 %); null where it could not be told. */
  clockPpm: number | null;
  clockUncertaintyPpm: number | null;
  /** Sample rates of capture and stimulus, where they differ. */
  ratesHz?: { capture: number; stimulus: number };
  /** Against another take of the same run, where there is one: largest third-octave difference of trusted bands, and the scale (dB) of the others. */
  repeatability?: { take: string; worstDb: number; atHz: number; medianDb: number };
  /** What is wrong and what to do; empty where all is well. */
  warnings: Caveat[];
}

/** What comes out of a captured sweep. */
export interface Deconvolution {
  /** Impulse response of the fundamental, float WAV, mono; its step says at which sample the stimulus would have arrived without delay. */
  impulse: Recording;
  /** With phase and noise; dB re 20 uPa where full scale is known, else dB re a full-scale sine in the capture. */
  response: Curve;
  /** Order 2 and up, dB re the fundamental over the fundamental's frequency, with noise on the same scale. Empty where the stimulus allows none. */
  harmonics: Curve[];
  /** Of the orders 2 to 5, or as many as there are. */
  thd: { frequencyHz: number[]; percent: number[] };
  /**
   * Arrival of the direct sound after the stimulus began in the capture's own time, less the lead-in. Good to 0.1 ms
   * where `delayFrom` in the curves' step is 'phase'; in rooms and noise to some milliseconds.
   */
  delayMs: number;
  /** Of the delay, 95 %. */
  delayUncertaintyMs: number;
  quality: CaptureQuality;
}
