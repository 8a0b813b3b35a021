import type { Curve } from '../../model/curve';
import type { Ladder } from '../../model/findings';
import { captureCaveats } from '../../response/captureCaveats';
import { makeRefusal } from '../../words/makeRefusal';
import { median } from '../fitting/median';
import { findFit } from './breaks/findFit';
import { findShapeChanges } from './breaks/findShapeChanges';
import { pickRungs, spread } from './cells';
import { collectRungs } from './collectRungs';
import { commonBands } from './commonBands';
import { measureCells } from './measureCells';
import { findNoise } from './noise/findNoise';
import { partCaveats } from './partCaveats';
import { countCells } from './read/countCells';
import { findExtent } from './read/findExtent';
import { findOnset } from './read/findOnset';
import { findRegions } from './read/findRegions';
import { playedBands } from './read/playedBands';
import { shownLoss } from './read/shownLoss';
import { stepAtTop } from './read/stepAtTop';

/** The bottom ends where the reference band begins, Hz: the lower edge of the third octave at 40 Hz. */
const BOTTOM_BELOW_HZ = 36;

export interface LadderOptions {
  /** Response of a muted run, on the scale of the others; default: the curves whose role is 'noise'. */
  noise?: Curve;
  /** Drive to count with: as commanded (default), or scaled to the measured step. */
  step?: 'commanded' | 'measured';
  /** Whether what a whole run came out too loud or too soft by is taken out of the compression (default) or left in. */
  runs?: 'evened' | 'as measured';
  /** Compressions whose onset is wanted, dB, > 0; default 1 and 3. */
  onsetsDb?: number[];
  /** Whether curves weighted as a sound level meter does (A, C) are accepted; default false. */
  weighted?: boolean;
}

/**
 * Build the compression ladder of one unit in one setting: how much of each drive step arrives in each third octave.
 *
 * @param curves responses with `about.driveDb`, in any order and on any grids, and noise runs among them. Two at the
 * same drive are averaged as repeats.
 * @param options see {@link LadderOptions}.
 * @returns levels, compression, signal-to-noise ratio and trust of each cell; onsets, ceilings, the step check, limiting
 * regions; caveats. Onset drives are in dB above the lowest rung, in measured dB where the measured step is used.
 * @throws BassloomError `missing-drive`, `mixed-devices`, `mixed-settings`, `mixed-scales`, `weighted-curve`,
 * `too-few-rungs`, `too-many-rungs`, `no-whole-band`, `bad-onset`, `bad-option`.
 *
 * Notes: rungs that do not fit each other (`breaks`) part the ladder; the longest part is judged, and rungs or cells that are
 * off by themselves are left out. Bands are exact base-10 third octaves wholly inside nearly all rungs, levels their power means less the noise power.
 * Compression is (level of the reference rung + drive difference) - level, counted from the lowest rung of the band with
 * 20 dB signal-to-noise ratio; the first step above it must arrive in full, otherwise the band is untrusted. Trust also
 * needs 10 dB in the cell, beyond the doubt of few points. Two things sharpen it: what a whole run came out too loud or
 * too soft by in the bands that do not compress (`runGainDb`) is taken out, unless `runs` says otherwise or a run is far off; and where noise
 * makes the reference level uncertain by more than 0.06 dB, rungs above in which the band loses nothing help to find it.
 * The levels stay as measured. A loss that all rungs have alike, or all bands in proportion to drive, cannot be seen from
 * levels alone. Uncertainties are 95 %. Nothing is smoothed over rungs or clipped.
 *
 * Reference: IEC 61260-1:2014 (bands). Steps of 3 dB, 1 and 3 dB onsets: common practice, no source.
 *
 * @example
 * const run = (driveDb: number, levelDb: number) => makeCurve({ frequencyHz: [10, 20, 40, 80],
 *   levelDb: [levelDb, levelDb, levelDb, levelDb], about: { driveDb } });
 * buildLadder([run(0, 80), run(3, 83), run(6, 84)]).compressionDb[2][0] // 2
 */
export function buildLadder(curves: Curve[], options: LadderOptions = {}): Ladder {
  const { step: wanted = 'commanded', onsetsDb = [1, 3] } = options;
  checkOptions(wanted, onsetsDb);
  const { rungs, noise: noiseRuns, caveats, ...about } = collectRungs(curves, options.noise, options.weighted);
  const bandsHz = commonBands(rungs);
  const noise = findNoise(rungs, noiseRuns, bandsHz);
  const asMeasured = measureCells(rungs, bandsHz, noise.of);
  const fit = findFit(asMeasured, rungs, findShapeChanges(rungs, bandsHz, noise.of), noise.of);
  const { judged } = fit;
  const onAll = <T>(rows: T[], other: T): T[] => spread(rows, judged, rungs.length, other);

  const fitting = pickRungs(fit.cells, judged);
  const count = countCells(fitting, medianStep(asMeasured.driveDb), { step: wanted, runs: options.runs });
  const { check, references, tracks, limiting, gains } = count;
  const played = playedBands(fitting);
  const trusted = onAll(
    count.compression.trusted,
    bandsHz.map(() => false),
  );
  const scatterDb = Math.hypot(gains.cellScatterDb, Math.max(...check.runErrorDb));
  const lossAtTop = count.compression.lossDb.at(-1);
  // where nothing fits, what single cells and steps do means nothing
  const isBroken = fit.caveats.some(({ code }) => code === 'ladder-broken');
  return {
    scale: rungs[0].curves[0].scale,
    ...about,
    rungs: rungs.map(({ id, label, driveDb }) => ({ id, label, driveDb })),
    bandsHz,
    levelDb: asMeasured.levelDb.map(nulls),
    compressionDb: shownLoss(asMeasured, fit, count).map(nulls),
    snrDb: asMeasured.snrDb.map(nulls),
    trusted,
    referenceRung: references.map((from) => (from === null ? null : judged[from])),
    snrFrom: noise.from,
    onset: onsetsDb.map((compressionDb) => {
      const found = tracks.map((track) => findOnset(track, compressionDb));
      return {
        compressionDb,
        driveDb: found.map((one) => one?.driveDb ?? null),
        outputDb: found.map((one) => one?.levelDb ?? null),
      };
    }),
    ceiling: {
      levelDb: bandsHz.map((_, band) => highestTrusted(asMeasured.levelDb, trusted, band)),
      reached: limiting.map((found) => found !== null),
    },
    step: check.step,
    stepUsed: count.stepUsed,
    repeatScatterDb: check.repeatScatterDb,
    runGainDb: onAll(check.runGainDb, 0),
    breaks: fit.breaks,
    commonLossDb: onAll(check.commonLossDb, null),
    regions: findRegions(
      bandsHz,
      limiting,
      tracks.map((track) => track.length > 1),
      count.scale * check.step.commandedDb,
    ),
    extent: findExtent(
      {
        tracks,
        limiting,
        played,
        steps: bandsHz.map((_, band) =>
          stepAtTop(count.cells, band, scatterDb, count.proofs[band] === 'short' ? (lossAtTop?.[band] ?? 0) : 0),
        ),
        bottomEnds: bandsHz.filter((hz) => hz < BOTTOM_BELOW_HZ).length,
      },
      { rungs: judged.length, whole: judged[judged.length - 1] === rungs.length - 1 },
    ),
    caveats: [
      ...captureCaveats([...rungs.flatMap((rung) => rung.curves), ...noiseRuns]),
      ...caveats,
      ...noise.caveats,
      ...(isBroken ? fit.caveats.filter(({ severity }) => severity === 'warning') : fit.caveats),
      ...(isBroken ? [] : partCaveats(asMeasured, rungs, judged, { count, played, wanted })),
    ],
  };
}

function medianStep(driveDb: number[]): number {
  return median(driveDb.slice(1).map((drive, i) => drive - driveDb[i]));
}

function checkOptions(step: string, onsetsDb: number[]): void {
  if (step !== 'commanded' && step !== 'measured') {
    throw makeRefusal('bad-option', { wanted: 'ladder-step', value: step }, { field: 'step' });
  }

  const bad = onsetsDb.find((db) => !(Number.isFinite(db) && db > 0));
  if (bad !== undefined) {
    throw makeRefusal('bad-onset', { value: bad }, { field: 'onsetsDb' });
  }
}

function highestTrusted(levelDb: number[][], trusted: boolean[][], band: number): number | null {
  const levels = levelDb.flatMap((row, rung) => (trusted[rung][band] ? [row[band]] : []));
  return levels.length > 0 ? Math.max(...levels) : null;
}

function nulls(row: number[]): (number | null)[] {
  return row.map((value) => (Number.isFinite(value) ? value : null));
}
