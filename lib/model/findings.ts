import type { Caveat, CaveatValue, CaveatValues } from './caveat';
import type { About, Curve, Interval, Recording } from './curve';

/** What every finding carries besides its numbers. */
export interface Qualified {
  /** Why the numbers must not be taken at face value; empty where nothing speaks against them. */
  caveats: Caveat[];
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
  /**
   * Where the response has fallen by so much below `referenceDb` for good; null where it does not inside the curve.
   * `lowDipsHz`, `highDipsHz`: dips passed on the way there, less than half an octave wide, that fall as low but come
   * back; left out where there are none.
   */
  points: {
    downDb: number;
    lowHz: number | null;
    highHz: number | null;
    lowDipsHz?: number[];
    highDipsHz?: number[];
  }[];
}

export interface RollOff extends OfCurve, Qualified {
  /** Like the alignment null where no high-pass comes within 1 dB rms of the curve (the room is still in it, say). */
  f0Hz: number | null;
  /** Only of a second-order high-pass. */
  q: number | null;
  /** Of the nearest high-pass, however far off. */
  order: number;
  slopeDbPerOctave: number;
  /** What the high-pass was fitted to; without one, what the slope was read over. */
  rangeHz: Interval;
  rmsErrorDb: number;
  alignment: string | null;
}

export interface Ladder extends Qualified {
  device?: string;
  setting?: string;
  scale: Curve['scale'];
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
  /** The median step, and the true one with its uncertainty (95 %); null where it could not be measured. */
  step: { commandedDb: number; measuredDb: number | null; uncertaintyDb: number | null; differs: boolean | null };
  /** Which of the two steps the compression was counted with. */
  stepUsed: 'commanded' | 'measured';
  /** Standard deviation of a whole run's gain, from the bands that do not compress, dB; null where too few rungs tell. */
  repeatScatterDb: number | null;
  /** By rung, dB: how much the whole run was too loud, from the bands that do not compress; taken out of the compression (not of the levels); 0 where not known. */
  runGainDb: number[];
  /** Neighbouring rungs that do not fit each other; nothing is counted across them. */
  breaks: LadderBreak[];
  /** By rung, dB: loss that all bands share beyond the scatter of runs (heat, say); counted in `compressionDb`; null where it cannot be told. */
  commonLossDb: (number | null)[];
  /** Contiguous bands that give no more, and whose onsets lie within a step of each other. */
  regions: {
    lowHz: number;
    highHz: number;
    /** Above the lowest rung: of the first band, and of the last. */
    onsetDriveDb: number;
    onsetToDriveDb: number;
    ceilingDb: number;
    kind: 'limiter' | 'gradual';
  }[];
  /** What the regions together say; 'unknown' where too little can be trusted to say that nothing limits. */
  extent: 'none' | 'bottom' | 'parts' | 'everywhere' | 'unknown';
}

/** Two neighbouring rungs that do not fit each other: gain, microphone, filter changed, a file taken twice, order. */
export interface LadderBreak {
  /** Ids of the curves. */
  between: [lower: string, upper: string];
  /** How much the upper one is too loud re the lower one and their drives, dB. */
  offDb: number;
  what: 'all bands' | 'some bands' | 'not rising';
  bandsHz: number[];
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

export interface SettingDifference extends Qualified {
  device?: string;
  /** Labels or settings of the two curves; the difference is a - b. */
  a: string;
  b: string;
  /** The runs compared: ids of their curves, and their drives where known. */
  runs: { a: { curve: string; driveDb: number | null }; b: { curve: string; driveDb: number | null } };
  /** 'drive': at equal drive, or what the drives differ by was taken off; 'level': at equal level in the reference band. */
  matchedBy: 'drive' | 'level';
  curve: Curve;
  kind: 'shelf' | 'level' | 'low-pass' | 'other' | 'none' | 'unknown';
  /** What the switch changes over the whole band, dB; null where that cannot be told. `asymptoteDb` is net of it. */
  levelDb: number | null;
  /** Where the difference is half of its low-frequency value; like slope and asymptote only of a shelf. */
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

/** Harmonics of a unit over frequency and drive. */
export interface Distortion extends Qualified {
  device?: string;
  setting?: string;
  /** Lowest drive first; `curve` is the id of the response the harmonics belong to. */
  rungs: { curve: string; label: string; driveDb: number }[];
  /** Exact base-10 third-octave centres of the fundamental, Hz. */
  bandsHz: number[];
  /** Highest order that THD sums up, 5 unless fewer were measured. */
  thdToOrder: number;
  /** [rung][band], %; null where not known. */
  thdPercent: (number | null)[][];
  /** By order, [rung][band], dB re the fundamental. */
  harmonics: { order: number; levelDb: (number | null)[][] }[];
  /** What noise alone would read as THD, [rung][band], %; null where not known. */
  noisePercent: (number | null)[][];
  /** [rung][band]; false where noise prevails. */
  trusted: boolean[][];
  /** Level of the fundamental, [rung][band]. */
  levelDb: (number | null)[][];
  scale: Curve['scale'];
  /** Where THD first passes a percentage: drive above the lowest rung, and level of the fundamental there; null where it never does. `reached` false and a level: 'cleaner up to at least'. Where the lowest rung that tells is above it already, drive and level are those of that rung, and 'at most': THD there is above `percent`. */
  passes: { percent: number; driveDb: (number | null)[]; levelDb: (number | null)[]; reached: boolean[] }[];
}

/** Where bursts were measured: levels are brought to 1 m and 2 m in a free field or a half space only, by inverse distance. */
export interface OutputAssumption {
  /** 'half space': outdoors over hard ground; 'room': as heard in a room, whose part is in the levels. */
  place: 'free field' | 'half space' | 'room' | 'unknown';
  /** Distances of the microphone, m; empty where none is known. */
  measuredAtM: number[];
  /** Whether levels are dB re 20 uPa. */
  calibrated: boolean;
}

/** Greatest output of a unit in short bursts whose harmonics stay under given limits. */
export interface MaximumOutput extends Qualified {
  device?: string;
  setting?: string;
  /** Ids of the captures it was read from. */
  recordings: string[];
  /** Largest level of each harmonic, dB re the fundamental. */
  limits: { fromOrder: number; toOrder: number | null; limitDb: number }[];
  /** Whether levels are dB re 20 uPa or re a full-scale sine in the capture. */
  scale: Curve['scale'];
  /** Distance of the microphone, m; null where not known, or where captures differ. */
  measuredAtM: number | null;
  centres: {
    /** Exact base-10 third-octave centre, Hz. */
    centreHz: number;
    /** Level of the burst that was the highest to pass, dBFS, with the run's drive added; null where none passed. */
    driveDb: number | null;
    /** Peak level at the microphone; null where none passed. */
    levelAtMicrophoneDb: number | null;
    /** The same at 1 m; null where none passed, and where the place or the distance does not allow it to be told. */
    peakAt1mDb: number | null;
    /** Root mean square of a steady tone of that amplitude, at 2 m: 9 dB less. */
    rmsAt2mDb: number | null;
    /** Why the next higher burst did not count; 'schedule' where there was none. */
    stoppedBy: 'distortion' | 'compression' | 'schedule' | 'noise' | 'clipping';
    /** The harmonic that passed its limit, and by how much. */
    harmonic?: { order: number; levelDb: number; limitDb: number };
    /** Every burst played at this centre, lowest first; `levelDb` is the peak level at the microphone. */
    bursts: { driveDb: number; levelDb: number | null; passed: boolean; harmonicsDb: (number | null)[] }[];
    trusted: boolean;
  }[];
  /** Means over several centres, of pressures (not of dB); null where a centre of them is missing. */
  averages: {
    name: string;
    centresHz: number[];
    levelAtMicrophoneDb: number | null;
    peakAt1mDb: number | null;
    rmsAt2mDb: number | null;
    /** Whether a centre of it was stopped by the schedule, by noise or by clipping, and not by a limit of the unit. */
    atLeast: boolean;
  }[];
  /** On what levels at 1 m and 2 m rest; `outputAssumption` says it in words. */
  assumption: OutputAssumption;
}

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

/** Grows as a message passes analysis nodes: one key per analysis. */
export interface Findings {
  /** Of the shapes below; stands at the head of `findings.json`. */
  schemaVersion?: 2;
  bandFit?: BandFit[];
  rollOff?: RollOff[];
  ladder?: Ladder[];
  roomFeatures?: RoomFeature[];
  roomPrediction?: RoomPrediction;
  settingDifference?: SettingDifference[];
  distortion?: Distortion[];
  maximumOutput?: MaximumOutput[];
  captureQuality?: CaptureQuality[];
  exposure?: Exposure;
  /** What import, collection and correction guessed, dropped or repaired. */
  notes?: Caveat[];
  /** What all of it comes to. */
  conclusions?: Conclusions;
}
