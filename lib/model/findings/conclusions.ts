import type { CaveatValue } from '../caveat';
import type { Ladder } from './ladder';

/** One thing that the findings come to, in a sentence. Every number of `text` is in `values`, rounded as it is there. */
export interface Statement {
  code: string;
  values: Record<string, CaveatValue>;
  /** English; `describe` says it in other languages from code and values. */
  text: string;
  /** Id of the figure of a report it can be checked in. */
  figure?: string;
}

/** One of the few facts that a reader takes home, in at most 20 words. */
export interface Headline extends Statement {
  /** Why it is to be taken with care. */
  doubt?: string;
}

/** What a headline leaves out. */
export interface Detail extends Statement {
  /** What it is about. */
  topic: 'range' | 'switch' | 'limits' | 'distortion' | 'output' | 'shape' | 'room' | 'trust' | 'ears';
  /** Something that puts other statements in doubt. */
  warning?: boolean;
}

/** What the findings of one setting come to. */
export interface SettingConclusion {
  device?: string;
  setting?: string;
  /**
   * The run that speaks for the setting where one must, and why it was chosen; null where no run is known. 'equal
   * drive': all settings of the unit are trusted at it, and compressed the least.
   */
  shown: {
    curve: string;
    label: string;
    driveDb: number | null;
    why: 'only run' | 'equal drive' | 'least compressed' | 'quietest trusted' | 'quietest';
  } | null;
  /** Of its ladder, 'unknown' where no trusted level bears it out; null without a ladder. */
  extent: Ladder['extent'] | null;
  /** Lowest band for which an extent of 'none' is shown, Hz; null where that is 20 Hz or below, and for other extents. */
  freeFromHz: number | null;
  /** Where each amount of compression is reached first; drive above the lowest rung. */
  onsets: { compressionDb: number; bandHz: number; driveDb: number; levelDb: number | null }[];
  /** Range and level up to which THD stays below a percentage. */
  clean: { percent: number; lowHz: number; highHz: number; levelDb: number; atLeast: boolean }[];
  /** Where THD passes each percentage first; drive above the lowest rung; `atMost`: it may be passed at less. */
  passes: { percent: number; bandHz: number; driveDb: number; levelDb: number | null; atMost: boolean }[];
  /** Highest trusted THD of the loudest run that tells, and its strongest harmonic; null where none is known. */
  highestThd: { curve: string; driveDb: number; bandHz: number; percent: number; order: number | null } | null;
  /** Level re the reference band at high drive less that at low drive; null without a ladder. */
  shape: {
    /** 'bends': it changes, but not as a whole bottom that is lost or gained. */
    kind: 'kept' | 'loses bottom' | 'gains bottom' | 'bends' | 'unknown';
    lowDriveDb: number;
    highDriveDb: number;
    at: { frequencyHz: number; changeDb: number | null; trusted: boolean }[];
  } | null;
}

/** What a verdict says, computed from the findings. */
export interface Conclusions {
  /** In the order in which responses, then findings, name them: figures count settings by it, from 1. */
  settings: SettingConclusion[];
  /** How many captures were judged, and the labels of those that are not good. */
  captures: { judged: number; doubtful: string[]; bad: string[] };
  /** Three to seven, best first; fewer where there is less to say. */
  headlines: Headline[];
  /** What else can be said, in the order in which readers ask. */
  details: Detail[];
}
