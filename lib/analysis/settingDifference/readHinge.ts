import type { DifferenceLine } from './differenceLine';
import type { DifferenceSamples } from './differenceSamples';
import { findHinge } from './findHinge';

/** A smaller difference is none, dB. */
const LEAST_DB = 0.3;
/** An asymptote is seen where the trusted range comes this close to it; one that all shapes agree in, from here. */
const SEEN = 0.85;
const FORESEEN = 0.5;
/** A difference counts where its mean below the hinge is so many standard deviations. */
const SIGNIFICANT = 4;
/** A difference that is so many times larger further up is that of a band, not of the low end. */
const BAND = 1.5;

export interface Hinge {
  hingeHz: number | null;
  asymptoteDb: number | null;
  slopeDbPerOctave: number | null;
  caveats: string[];
}

/** Read the hinge, the asymptote and the slope off a line between two frequencies. */
export function readHinge(line: DifferenceLine, samples: DifferenceSamples, lowHz: number, topHz: number): Hinge {
  const none = (caveat: string): Hinge => ({
    hingeHz: null,
    asymptoteDb: null,
    slopeDbPerOctave: null,
    caveats: [caveat],
  });
  const lowestDb = line.db(lowHz);
  const at = `${shortHz(lowHz)} Hz`;
  const most = largest(line, lowHz, topHz);
  if (Math.abs(most.db) > BAND * Math.abs(lowestDb) + LEAST_DB) {
    return none(
      `The settings differ most at ${shortHz(most.hz)} Hz (by ${most.db.toFixed(1)} dB), less at ${at}: a band was changed, not all from a frequency down, so there is no hinge.`,
    );
  }
  if (Math.abs(lowestDb) < LEAST_DB) {
    return none(`The settings differ by less than ${LEAST_DB} dB at the lowest trusted frequency, ${at}: no hinge.`);
  }
  const { asymptoteDb, agreed } = line;
  const reached = asymptoteDb === null ? 0 : lowestDb / asymptoteDb;
  const seen = asymptoteDb !== null && reached > (agreed ? FORESEEN : SEEN) && reached < 1 / SEEN;
  const halfDb = (seen ? asymptoteDb : lowestDb) / 2;
  const hingeHz = findHinge(line.db, halfDb, lowHz, topHz);
  if (hingeHz === null) {
    return none(`The difference does not come down to half of its ${lowestDb.toFixed(1)} dB at ${at}: no hinge.`);
  }
  if (!standsOut(line, samples, hingeHz)) {
    return none(`The settings differ by no more than chance below ${shortHz(hingeHz)} Hz: no hinge.`);
  }
  const belowHz = Math.max(lowHz, hingeHz / 2);
  const octaves = Math.log2(hingeHz / belowHz);
  return {
    hingeHz,
    asymptoteDb: seen ? asymptoteDb : null,
    slopeDbPerOctave: octaves > 0.1 ? (line.db(belowHz) - halfDb) / octaves : null,
    caveats: caveatsOf(seen, reached, lowestDb, at),
  };
}

function caveatsOf(seen: boolean, reached: number, lowestDb: number, at: string): string[] {
  const lowest = `${lowestDb.toFixed(1)} dB at ${at}`;
  if (!seen) {
    return [
      `The difference does not come to rest inside the trusted range; the hinge is where it is half of its ${lowest}.`,
    ];
  }
  if (reached > SEEN) return [];
  return [`The difference has reached ${lowest} only; where it comes to rest is foretold by the shape that fits it.`];
}

function standsOut(
  { offsetDb }: DifferenceLine,
  { hz, differenceDb, sigma }: DifferenceSamples,
  hingeHz: number,
): boolean {
  let [weights, sum] = [0, 0];
  for (let i = 0; i < hz.length && hz[i] <= hingeHz; i++) {
    weights += 1 / sigma[i] ** 2;
    sum += (differenceDb[i] - offsetDb) / sigma[i] ** 2;
  }
  return Math.abs(sum) > SIGNIFICANT * Math.sqrt(weights);
}

function largest(line: DifferenceLine, lowHz: number, topHz: number): { hz: number; db: number } {
  let most = { hz: lowHz, db: line.db(lowHz) };
  for (let hz = lowHz; hz <= topHz; hz *= 2 ** (1 / 24)) {
    const db = line.db(hz);
    if (Math.abs(db) > Math.abs(most.db)) most = { hz, db };
  }
  return most;
}

function shortHz(hz: number): string {
  return String(Number(hz.toPrecision(3)));
}
