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
/** Nor who has left out more than this at once below the top of a subwoofer's range (common practice, no source). */
const WIDEST_GAP_OCTAVES = 0.5;
const HIGHEST_WANTED_HZ = 120;
/** A half octave that is off by more beyond chance shows that something is changed, dB. */
const SHOWN_DB = 0.3;
/** A shape that is at least half of what it can be over less than this is not claimed, octaves. */
const LEAST_OCTAVES = 1 / 2;
/** The same, and the least difference (dB), where the noise is not known. Tuned on simulated pairs without a difference. */
const UNSURE_OCTAVES = 3 / 4;
const UNSURE_DB = 1;
/** A narrow peak is claimed from here, dB and octaves. */
const LEAST_PEAK_DB = 1.5;
const PEAK_OCTAVES = 1 / 8;
/** A low-pass that takes away less than this at the top of the range is not claimed, dB. */
const LEAST_FALL_DB = 1;
/** Low-passes of subwoofers are set from about 40 Hz up (common practice, no source), so what they change is half done from about here. */
const LOWEST_CROSSOVER_HZ = 45;
/** Who has not seen the bottom octaves cannot say that a switch does nothing, Hz: the highest of the usual readings. */
const LOW_ENOUGH_HZ = 32;

export type Kind = { kind: Exclude<SettingDifference['kind'], 'shelf'> } | { kind: 'shelf'; hinge: Hinge };

/**
 * Say what a switch does, from the line that fits.
 *
 * @param lowHz lowest trusted frequency. @param levelFromDb a smaller offset is repeat scatter. @param isNoiseKnown
 * whether both runs say how strong their noise is.
 */
export function readKind(
  chosen: ChosenLine,
  samples: DifferenceSamples,
  lowHz: number,
  { levelFromDb, isNoiseKnown }: { levelFromDb: number; isNoiseKnown: boolean },
): Kind {
  const { line, topHz } = chosen;
  const highestHz = samples.hz[samples.hz.length - 1];
  const flat = (): Kind => {
    if (!changesLittle(samples, line.offsetDb)) return { kind: 'unknown' };
    if (Math.abs(line.offsetDb) >= levelFromDb) return { kind: 'level' };
    return { kind: hasGap(samples) ? 'unknown' : 'none' };
  };
  if (topHz < highestHz && line.kind === 'flat') return { kind: beyond(samples, line.offsetDb, topHz) };
  const own = samplesUpTo(samples, topHz);
  const most = largest(line, own);
  // noise of a smoothed curve does not show in its scatter: where nothing else tells of it, more must be seen
  const leastDb = isNoiseKnown ? LEAST_DB : UNSURE_DB;
  const octaves = most < leastDb ? 0 : shownOctaves(line, own, most);
  const isNarrow = octaves < (isNoiseKnown ? LEAST_OCTAVES : UNSURE_OCTAVES);
  const mayBeNarrow =
    line.kind === 'other' || (line.kind === 'any' && most > BAND * Math.abs(line.db(lowHz)) + LEAST_DB);
  if (isNarrow && !(mayBeNarrow && most >= LEAST_PEAK_DB && octaves >= PEAK_OCTAVES)) return flat();
  if (line.kind === 'low-pass') return Math.abs(line.db(highestHz)) < LEAST_FALL_DB ? flat() : { kind: 'low-pass' };
  if (line.kind === 'other') return most < REPEATABILITY_DB ? flat() : { kind: 'other' };
  const lowestDb = line.db(lowHz);
  if (most > BAND * Math.abs(lowestDb) + LEAST_DB) return { kind: 'other' };
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

/**
 * Whether it is shown that the settings differ by no more than an offset, within repeatability: in most of the half
 * octaves, one of the bottom among them, while the others do not speak against it.
 */
function changesLittle(samples: DifferenceSamples, offsetDb: number): boolean {
  const rests = windowRests(samples, () => offsetDb);
  const shown = rests.filter(({ db, chanceDb }) => Math.abs(db) <= REPEATABILITY_DB && chanceDb <= REPEATABILITY_DB);
  const isLow = shown.length > 0 && shown[0].hz <= LOW_ENOUGH_HZ;
  return (
    isLow && shown.length > rests.length / 2 && rests.every(({ db, chanceDb }) => Math.abs(db) - chanceDb <= SHOWN_DB)
  );
}

/** Whether a whole band was left out, in which a switch may work unseen. */
function hasGap({ hz }: DifferenceSamples): boolean {
  return hz.some((f, i) => i > 0 && f < HIGHEST_WANTED_HZ && Math.log2(f / hz[i - 1]) > WIDEST_GAP_OCTAVES);
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

/**
 * Over how many octaves samples show a shape to do at least half of what it can; 0 where that is no more than scatter
 * would make.
 */
function shownOctaves(line: DifferenceLine, { hz, differenceDb, sigma }: DifferenceSamples, mostDb: number): number {
  let [weights, sum, octaves] = [0, 0, 0];
  for (let i = 0; i < hz.length; i++) {
    const db = line.db(hz[i]);
    if (Math.abs(db) < mostDb / 2) continue;
    weights += 1 / sigma[i] ** 2;
    sum += (Math.sign(db) * (differenceDb[i] - line.offsetDb)) / sigma[i] ** 2;
    octaves += Math.min(0.25, Math.log2((hz[i + 1] ?? hz[i]) / hz[i]));
  }
  return sum > SIGNIFICANT * Math.sqrt(weights) ? octaves : 0;
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

/** The most that a line is off its offset where it was measured, dB. */
function largest(line: DifferenceLine, { hz }: DifferenceSamples): number {
  return hz.reduce((most, one) => Math.max(most, Math.abs(line.db(one))), 0);
}
