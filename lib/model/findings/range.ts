import type { Interval } from '../curve';
import type { OfCurve, Qualified } from './qualified';

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
