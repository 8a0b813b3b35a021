import type { Curve } from '../curve';
import type { Qualified } from './qualified';

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
