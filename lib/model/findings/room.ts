import type { CaveatValues } from '../caveat';
import type { Interval } from '../curve';
import type { Qualified } from './qualified';

/** A dip or peak of a response; `caveats` says where noise hides part of it. */
export interface RoomFeature extends Qualified {
  frequencyHz: number;
  kind: 'dip' | 'peak';
  prominenceDb: number;
  /** Against the 1-octave mean; positive for a dip's depth and for a peak's height. */
  depthDb: number;
  /** At half depth. */
  widthOctaves: number;
  maskHz: Interval;
  cause: {
    type: 'mode' | 'interference' | 'boundary' | 'signature' | 'listed' | 'unexplained';
    /** What `detail` is made from; of type 'listed' `as` names the type that the room's prediction gives it. */
    values?: CaveatValues;
    /** In English, for people. */
    detail?: string;
    predictedHz?: number;
    mismatchHz?: number;
  };
  /** Shown to be the room's, shown to be the unit's, or not known; only the room's and those the user lists are masked. */
  belongsTo: 'room' | 'unit' | 'unknown';
  /** 0..1, of the cause: how unlikely it is that it fits by chance. */
  confidence: number;
  seenIn: number;
  of: number;
}

/** Level and phase that the room alone would give, re free field at 1 m, kept with what it was reckoned from. */
export interface RoomPrediction {
  room: string;
  frequencyHz: number[];
  levelDb: number[];
  schroederHz: number | null;
  modesBelowSchroeder: number | null;
}
