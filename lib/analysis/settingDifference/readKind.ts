import type { SettingDifference } from '../../model/findings';
import type { ChosenLine } from './chooseLine';
import type { DifferenceLine } from './differenceLine';
import { type DifferenceSamples, samplesUpTo } from './differenceSamples';
import { type Hinge, LEAST_DB, readHinge } from './readHinge';
import { windowRests } from './windowRests';

/** Two runs of one drive differ by less where the switch does nothing, dB (common practice, no source). */
export const REPEATABILITY_DB = 0.5;
/** A difference counts where its mean is so many standard deviations. */
const SIGNIFICANT = 4;
/** A difference that is so many times larger further up is that of a band, not of the low end. */
const BAND = 1.5;
/** A low-pass that takes away less than this at the top of the range is not claimed, dB. */
const LEAST_FALL_DB = 1;
/** Low-passes of subwoofers are set from about 40 Hz up (common practice, no source), so what they change is half done from here. */
const LOWEST_CROSSOVER_HZ = 60;
/** Who has not seen the bottom octaves cannot say that a switch does nothing, Hz: the highest of the usual readings. */
const LOW_ENOUGH_HZ = 32;

export type Kind = { kind: Exclude<SettingDifference['kind'], 'shelf'> } | { kind: 'shelf'; hinge: Hinge };

/**
 * Say what a switch does, from the line that fits.
 *
 * @param levelFromDb a smaller offset is repeat scatter.
 */
export function readKind(chosen: ChosenLine, samples: DifferenceSamples, lowHz: number, levelFromDb: number): Kind {
  const { line, topHz } = chosen;
  const highestHz = samples.hz[samples.hz.length - 1];
  const flat = (): Kind => {
    if (!changesLittle(samples, line.offsetDb) || samples.hz[0] > LOW_ENOUGH_HZ) return { kind: 'unknown' };
    return { kind: Math.abs(line.offsetDb) < levelFromDb ? 'none' : 'level' };
  };
  if (topHz < highestHz && line.kind === 'flat') return { kind: beyond(samples, line.offsetDb, topHz) };
  const most = largest(line, lowHz, topHz);
  if (Math.abs(most.db) < LEAST_DB || !standsOut(line, samplesUpTo(samples, topHz), lowHz, topHz)) return flat();
  if (line.kind === 'low-pass') return Math.abs(line.db(highestHz)) < LEAST_FALL_DB ? flat() : { kind: 'low-pass' };
  if (line.kind === 'other') return Math.abs(most.db) < REPEATABILITY_DB ? flat() : { kind: 'other' };
  const lowestDb = line.db(lowHz);
  if (Math.abs(most.db) > BAND * Math.abs(lowestDb) + LEAST_DB) return { kind: 'other' };
  if (Math.abs(lowestDb) < LEAST_DB) return flat();
  if (line.kind === 'any' && !isMonotone(line, lowHz, topHz)) return { kind: 'other' };
  const hinge = readHinge(line, lowHz, topHz);
  if (hinge && isOfTheTop(hinge, line, levelFromDb)) return { kind: 'low-pass' };
  return hinge ? { kind: 'shelf', hinge } : { kind: 'unknown' };
}

/** A low-pass moved to another corner levels off at the top, as a shelf does whose bottom stays where it was. */
function isOfTheTop({ hingeHz, asymptoteDb }: Hinge, { offsetDb }: DifferenceLine, levelFromDb: number): boolean {
  if (asymptoteDb === null || hingeHz < LOWEST_CROSSOVER_HZ) return false;
  return Math.abs(offsetDb) >= LEAST_FALL_DB && Math.abs(offsetDb + asymptoteDb) < levelFromDb;
}

/** Whether it is shown that the settings differ by no more than an offset, within repeatability. */
function changesLittle(samples: DifferenceSamples, offsetDb: number): boolean {
  const rests = windowRests(samples, () => offsetDb);
  return rests.length > 0 && rests.every(({ db, chanceDb }) => Math.max(Math.abs(db), chanceDb) <= REPEATABILITY_DB);
}

/** What is done above a range in which nothing is: a low-pass goes one way, and does not come back. */
function beyond(samples: DifferenceSamples, offsetDb: number, topHz: number): 'low-pass' | 'other' {
  const rests = windowRests(samples, () => offsetDb).filter(({ hz }) => hz > topHz / 2);
  const last = rests[rests.length - 1];
  if (!last || Math.abs(last.db) < LEAST_FALL_DB + last.chanceDb) return 'other';
  const sign = Math.sign(last.db);
  const turnsBack = rests.some(({ db, chanceDb }, i) => {
    const before = rests.slice(0, i).reduce((most, one) => Math.max(most, sign * one.db), 0);
    return sign * db < before - REPEATABILITY_DB - chanceDb;
  });
  return turnsBack ? 'other' : 'low-pass';
}

/** Whether a shape is more than scatter would make: by its samples where it does at least half of what it can. */
function standsOut(line: DifferenceLine, samples: DifferenceSamples, lowHz: number, topHz: number): boolean {
  const half = Math.abs(largest(line, lowHz, topHz).db) / 2;
  const { hz, differenceDb, sigma } = samples;
  let [weights, sum] = [0, 0];
  for (let i = 0; i < hz.length; i++) {
    const db = line.db(hz[i]);
    if (Math.abs(db) < half) continue;
    weights += 1 / sigma[i] ** 2;
    sum += (Math.sign(db) * (differenceDb[i] - line.offsetDb)) / sigma[i] ** 2;
  }
  return sum > SIGNIFICANT * Math.sqrt(weights);
}

function isMonotone(line: DifferenceLine, lowHz: number, topHz: number): boolean {
  const sign = Math.sign(line.db(lowHz));
  const slack = LEAST_DB + 0.15 * Math.abs(line.db(lowHz));
  let least = sign * line.db(lowHz);
  for (let hz = lowHz; hz <= topHz; hz *= 2 ** (1 / 24)) {
    const db = sign * line.db(hz);
    if (db > least + slack) return false;
    least = Math.min(least, db);
  }
  return true;
}

function largest(line: DifferenceLine, lowHz: number, topHz: number): { hz: number; db: number } {
  let most = { hz: lowHz, db: line.db(lowHz) };
  for (let hz = lowHz; hz <= topHz; hz *= 2 ** (1 / 24)) {
    const db = line.db(hz);
    if (Math.abs(db) > Math.abs(most.db)) most = { hz, db };
  }
  return most;
}
