import type { Curve } from '../curve';
import type { Qualified } from './qualified';

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
