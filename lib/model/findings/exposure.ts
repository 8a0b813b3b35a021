import type { Qualified } from './qualified';

/** Where levels of an exposure come from: 'stated' for the ear, or read at the microphone from a sweep's response. */
export interface ExposureSource {
  dba: 'stated' | 'sweep' | null;
  dbc: 'sweep' | null;
  /** Label of the loudest sweep, and of how many; null where none is in dB SPL. */
  run: string | null;
  runs: number;
}

/** How loud it was at the ear, and how long that is permitted. */
export interface Exposure extends Qualified {
  /** A-weighted and C-weighted level at the ear, dB, a mean over the time that it sounds; null where not known. */
  levelDba: number | null;
  levelDbc: number | null;
  /** The same at the loudest moment of a sweep, where it was read from one. */
  loudestDba?: number;
  loudestDbc?: number;
  /** Where the levels come from; `exposureSource` says it in words. */
  from: ExposureSource;
  /** Seconds a day by NIOSH 98-126; null where the level is not known. */
  permittedSeconds: number | null;
  /** The measuring itself, seconds, where known. */
  measuredSeconds: number | null;
}
