import type { Curve } from '../curve';
import type { Qualified } from './qualified';

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
