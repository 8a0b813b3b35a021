import type { Caveat } from '../../model/caveat';
import type { Curve } from '../../model/curve';
import type { CaptureQuality, Deconvolution } from '../../model/findings';
import { bandAround, thirdOctaveCentres } from '../../model/octaves';
import { powerIntegral } from '../../response/powerIntegral';
import { makeCaveat } from '../../words/makeCaveat';
import { median } from '../fitting/median';
import { addWarnings } from './addWarnings';

/** How far a run must be off its neighbours, dB, where nothing explains it: far beyond what takes of one run differ by. */
const OFF_DB = { level: 3, noise: 12, distortion: 10 };
/** THD below that is too small to matter, dB re the fundamental, and what stands less above its noise is none. */
const LEAST_THD_DB = -40;
const ABOVE_NOISE_DB = 10;
/** Bands are compared in that range, Hz. */
const RANGE_HZ: [number, number] = [14, 250];
/** Neighbours are as many to each side. */
const BESIDE = 2;

interface Run {
  one: Deconvolution;
  driveDb: number;
  levelDb: number[];
  noiseDb: number[];
  thdDb: number[];
}

interface Oddity {
  what: 'level' | 'noise' | 'distortion';
  byDb: number;
  atHz: number;
}

/**
 * Find captures that are unlike those of the same unit and setting at drives next to theirs, and say so in their quality:
 * a door, a cough or a knock during the sweep.
 *
 * @param found results of `deconvolve`, in any order. @returns the same in the same order; the odd ones with a doubt
 * `capture-unlike-neighbours` and the verdict that follows.
 *
 * Notes: a run is compared in exact third octaves with up to two runs to each side of its drive. Odd is a level that
 * lies more than 3 dB beside the line between its neighbours, and on neither side of it follows them; noise more than
 * 12 dB above the median of the neighbours'; THD 10 dB above that of all neighbours, louder ones among them, since
 * distortion does not vanish with more drive. Three runs at different drives are needed. Two odd runs next to each other
 * can hide one another.
 *
 * @example
 * compareNeighbours(judgeRepeats(await Promise.all(captures.map((capture) => deconvolve(capture, sweep)))))
 */
export function compareNeighbours(found: Deconvolution[]): Deconvolution[] {
  const ladders = new Map<string, Run[]>();
  for (const one of found) {
    const ladder = ladderOf(one.quality);
    if (ladder === undefined || one.quality.verdict === 'bad') continue;
    ladders.set(ladder, [...(ladders.get(ladder) ?? []), readRun(one)]);
  }
  const odd = new Map<Deconvolution, Caveat>();
  for (const runs of ladders.values()) {
    runs.sort((a, b) => a.driveDb - b.driveDb);
    runs.forEach((run, i) => {
      const below = runs
        .slice(0, i)
        .filter(({ driveDb }) => driveDb < run.driveDb)
        .slice(-BESIDE);
      const above = runs
        .slice(i + 1)
        .filter(({ driveDb }) => driveDb > run.driveDb)
        .slice(0, BESIDE);
      const oddity = below.length + above.length < 2 ? undefined : oddityOf(run, below, above);
      if (!oddity) return;
      const neighbours = [...below, ...above].map(({ one }) => one.quality.label).join(', ');
      const where = { driveDb: [run.driveDb], bandsHz: [oddity.atHz] };
      odd.set(run.one, makeCaveat('capture-unlike-neighbours', 'doubt', { ...oddity, neighbours }, where));
    });
  }
  return found.map((one) => {
    const caveat = odd.get(one);
    return caveat ? addWarnings(one, [caveat]) : one;
  });
}

function ladderOf({ about: { device, setting, driveDb, position, distanceM } }: CaptureQuality): string | undefined {
  return driveDb === undefined ? undefined : JSON.stringify([device, setting, position, distanceM]);
}

const CENTRES = thirdOctaveCentres(...RANGE_HZ);

function readRun(one: Deconvolution): Run {
  const { response, harmonics, quality } = one;
  const sums = CENTRES.map(() => ({ power: 0, noise: 0 }));
  for (const harmonic of harmonics) {
    const [levels, noise] = [bandLevels(harmonic, harmonic.levelDb), bandLevels(harmonic, harmonic.noiseDb)];
    sums.forEach((sum, i) => {
      if (Number.isNaN(levels[i])) return;
      sum.power += 10 ** (levels[i] / 10);
      sum.noise += 10 ** (noise[i] / 10);
    });
  }
  return {
    one,
    driveDb: quality.about.driveDb!,
    levelDb: bandLevels(response, response.levelDb),
    noiseDb: bandLevels(response, response.noiseDb),
    thdDb: sums.map(({ power, noise }) =>
      power > noise * 10 ** (ABOVE_NOISE_DB / 10) ? 10 * Math.log10(power) : Number.NaN,
    ),
  };
}

/** NaN where a band is not whole in the curve, or the column is not known. */
function bandLevels({ frequencyHz }: Curve, column: number[] | undefined): number[] {
  if (!column || frequencyHz.length < 2) return CENTRES.map(() => Number.NaN);
  const integral = powerIntegral(frequencyHz, column);
  return CENTRES.map((centre) => {
    const [low, high] = bandAround(centre, 3);
    const isWhole = low >= frequencyHz[0] && high <= frequencyHz[frequencyHz.length - 1];
    return isWhole ? integral.meanDb(low, high) : Number.NaN;
  });
}

function oddityOf(run: Run, below: Run[], above: Run[]): Oddity | undefined {
  const found: Oddity[] = [];
  CENTRES.forEach((atHz, i) => {
    const noise = [...below, ...above].map(({ noiseDb }) => noiseDb[i]).filter((db) => !Number.isNaN(db));
    const add = (what: Oddity['what'], byDb: number) => {
      if (byDb > OFF_DB[what]) found.push({ what, byDb, atHz });
    };
    if (noise.length > 1) add('noise', run.noiseDb[i] - median(noise));
    add('level', offLine(run, below, above, i));
    // what a louder run does not have is not the unit's
    const thds = [...below, ...above].map((other) => thdCeiling(other, i));
    if (above.length > 0 && run.thdDb[i] > LEAST_THD_DB && thds.every((db) => !Number.isNaN(db))) {
      add('distortion', run.thdDb[i] - Math.max(...thds));
    }
  });
  const share = ({ what, byDb }: Oddity) => byDb / OFF_DB[what];
  return found.sort((a, b) => share(b) - share(a))[0];
}

/** THD of a run, or what noise leaves room for. */
function thdCeiling({ thdDb, levelDb, noiseDb }: Run, i: number): number {
  return Number.isNaN(thdDb[i]) ? Math.max(LEAST_THD_DB, noiseDb[i] - levelDb[i] + ABOVE_NOISE_DB) : thdDb[i];
}

/** How far a level lies outside of what its neighbours leave room for: above the lower one plus the step, or below both. */
function offLine(run: Run, below: Run[], above: Run[], i: number): number {
  const [lower, upper] = [below.at(-1), above[0]];
  if (!lower || !upper) return Number.NaN;
  const isClear = [lower, run, upper].every(({ levelDb, noiseDb }) => levelDb[i] - noiseDb[i] > ABOVE_NOISE_DB);
  if (!isClear && !Number.isNaN(run.noiseDb[i])) return Number.NaN;
  const most = lower.levelDb[i] + (run.driveDb - lower.driveDb);
  const least = Math.min(lower.levelDb[i], upper.levelDb[i] - (upper.driveDb - run.driveDb));
  const tooLoud = Math.min(run.levelDb[i] - most, run.levelDb[i] - upper.levelDb[i]);
  return Math.max(tooLoud, least - run.levelDb[i]);
}
