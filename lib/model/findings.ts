import type { About, Curve, Interval } from './curve';

/** What every finding carries besides its numbers. */
export interface Qualified {
  /** Why the numbers must not be taken at face value, one plain sentence each; empty where nothing speaks against them. */
  caveats: string[];
}

/** Which curve a finding was read from. */
export interface OfCurve {
  /** Id of the curve. */
  curve: string;
  label: string;
  about: About;
}

export interface BandRange {
  lowHz: number;
  highHz: number;
  octaves: number;
  floorDb: number;
  ceilingDb: number;
}

export interface BandFit extends BandRange, OfCurve, Qualified {
  heightDb: number;
  masksHz: Interval[];
  /** The same search with no masks. */
  withoutMasks: BandRange;
  /** Another range nearly as wide: within 0.1 octave of the best and not overlapping most of it. */
  runnerUp?: BandRange;
  /** Smallest height that holds the range asked for. */
  neededHeightDb?: number;
  /** The range `neededHeightDb` speaks of. */
  rangeHz?: Interval;
  /** Level that the points are counted down from. */
  referenceDb: number;
  /** Where the response has fallen by so much below `referenceDb`; null where it does not inside the curve. */
  points: { downDb: number; lowHz: number | null; highHz: number | null }[];
}

export interface RollOff extends OfCurve, Qualified {
  f0Hz: number;
  /** Only of a second-order high-pass. */
  q: number | null;
  order: number;
  slopeDbPerOctave: number;
  rmsErrorDb: number;
  alignment: string;
}

export interface Ladder extends Qualified {
  device?: string;
  setting?: string;
  /** Lowest drive first. */
  rungs: { id: string; label: string; driveDb: number }[];
  /** Exact base-10 third-octave centres, Hz. */
  bandsHz: number[];
  /** [rung][band]; noise power subtracted where known; null where nothing is left above the noise. */
  levelDb: (number | null)[][];
  /** [rung][band], positive = lost, negative = expansion; null below the reference rung or where no level is known. */
  compressionDb: (number | null)[][];
  snrDb: (number | null)[][];
  trusted: boolean[][];
  /** Per band, the index of the rung that compression is counted from (the lowest where the noise is unknown); null where no rung reaches 20 dB SNR. */
  referenceRung: (number | null)[];
  /** What the signal-to-noise ratios rest on. */
  snrFrom: 'noise run' | 'noise in the file' | 'scatter between rungs' | 'unknown';
  /** Drive in dB above the lowest rung; null where never reached. */
  onset: { compressionDb: number; driveDb: (number | null)[]; outputDb: (number | null)[] }[];
  /** Highest trusted level per band; `reached` false means 'at least'. */
  ceiling: { levelDb: (number | null)[]; reached: boolean[] };
  /** The median step, and the true one with its uncertainty (95 %); equal where it could not be measured, and a caveat says so. */
  step: { commandedDb: number; measuredDb: number; uncertaintyDb: number; differs: boolean };
  /** Which of the two steps the compression was counted with. */
  stepUsed: 'commanded' | 'measured';
  /** Standard deviation of a whole run's gain, from the bands that do not compress, dB; null where too few rungs tell. */
  repeatScatterDb: number | null;
  /** By rung, dB: how much the whole run was too loud, from the bands that do not compress; taken out of the compression (not of the levels); 0 where not known. */
  runGainDb: number[];
  regions: {
    lowHz: number;
    highHz: number;
    /** Above the lowest rung. */
    onsetDriveDb: number;
    ceilingDb: number;
    kind: 'limiter' | 'gradual';
  }[];
}

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
    detail?: string;
    predictedHz?: number;
    mismatchHz?: number;
  };
  /** 0..1. */
  confidence: number;
  seenIn: number;
  of: number;
}

export interface SettingDifference extends Qualified {
  device?: string;
  /** Labels or settings of the two curves; the difference is a - b. */
  a: string;
  b: string;
  curve: Curve;
  /** Where the difference is half of its low-frequency value. */
  hingeHz: number | null;
  asymptoteDb: number | null;
  slopeDbPerOctave: number | null;
  at: { frequencyHz: number; differenceDb: number; trusted: boolean }[];
}

/** Level and phase that the room alone would give, re free field at 1 m, kept with what it was reckoned from. */
export interface RoomPrediction {
  room: string;
  frequencyHz: number[];
  levelDb: number[];
  schroederHz: number | null;
  modesBelowSchroeder: number | null;
}

/** Grows as a message passes analysis nodes: one key per analysis. */
export interface Findings {
  bandFit?: BandFit[];
  rollOff?: RollOff[];
  ladder?: Ladder[];
  roomFeatures?: RoomFeature[];
  roomPrediction?: RoomPrediction;
  settingDifference?: SettingDifference[];
  /** What import, collection and correction guessed, dropped or repaired. */
  notes?: string[];
}
