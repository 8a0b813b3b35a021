import type { DifferenceLine } from './differenceLine';
import { findHinge } from './findHinge';

/** A smaller difference is none, dB. */
export const LEAST_DB = 0.3;
/** An asymptote is seen where the trusted range comes this close to it; one that all shapes agree in, from here. */
const SEEN = 0.85;
const FORESEEN = 0.5;

/** Where a shelf is half of what it is at the bottom. */
export interface Hinge {
  hingeHz: number;
  /** Null where the range does not reach it. */
  asymptoteDb: number | null;
  slopeDbPerOctave: number | null;
  /** At the bottom of the range. */
  lowestDb: number;
  /** Share of the asymptote that the range reaches; null where there is none. */
  reached: number | null;
}

/** Read the hinge, the asymptote and the slope off a line between two frequencies; undefined where it has no hinge. */
export function readHinge(line: DifferenceLine, lowHz: number, topHz: number): Hinge | undefined {
  const lowestDb = line.db(lowHz);
  const { asymptoteDb, agreed } = line;
  const reached = asymptoteDb === null ? 0 : lowestDb / asymptoteDb;
  const seen = asymptoteDb !== null && reached > (agreed ? FORESEEN : SEEN) && reached < 1 / SEEN;
  const halfDb = (seen ? asymptoteDb : lowestDb) / 2;
  const hingeHz = findHinge(line.db, halfDb, lowHz, topHz);
  if (hingeHz === null) return undefined;
  const belowHz = Math.max(lowHz, hingeHz / 2);
  const octaves = Math.log2(hingeHz / belowHz);
  return {
    hingeHz,
    asymptoteDb: seen ? asymptoteDb : null,
    slopeDbPerOctave: octaves > 0.1 ? (line.db(belowHz) - halfDb) / octaves : null,
    lowestDb,
    reached: seen ? reached : null,
  };
}

/** Whether an asymptote is foretold by the shape that fits rather than seen. */
export function isForetold({ reached }: Hinge): boolean {
  return reached !== null && reached <= SEEN;
}
