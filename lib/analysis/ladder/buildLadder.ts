import type { Curve } from '../../model/curve';
import { BassloomError } from '../../model/errors';
import type { Ladder } from '../../model/findings';
import { captureCaveats } from '../../response/captureCaveats';
import { asCaveats } from '../../words/makeCaveat';
import { cellCaveats } from './cellCaveats';
import { collectRungs } from './collectRungs';
import { commonBands } from './commonBands';
import { expansionCaveats } from './expansionCaveats';
import { checkStep, type StepCheck } from './gains/checkStep';
import { commonGains } from './gains/commonGains';
import { evenRuns } from './gains/evenRuns';
import { EXPECTED_SCATTER_DB } from './gains/fitSharedGain';
import { measureCells } from './measureCells';
import { findNoise } from './noise/findNoise';
import { bandTrack } from './read/bandTrack';
import { countCompression } from './read/countCompression';
import { findLimiting } from './read/findLimiting';
import { findOnset } from './read/findOnset';
import { findReferences } from './read/findReferences';
import { findRegions } from './read/findRegions';
import { proveReferences } from './read/proveReferences';
import { referenceLevels } from './read/referenceLevels';
import { stepCaveats } from './stepCaveats';

export interface LadderOptions {
  /** Response of a muted run, on the scale of the others; default: the curves whose role is 'noise'. */
  noise?: Curve;
  /** Drive to count with: as commanded (default), or scaled to the measured step. */
  step?: 'commanded' | 'measured';
  /** Whether what a whole run came out too loud or too soft by is taken out of the compression (default) or left in. */
  runs?: 'evened' | 'as measured';
  /** Compressions whose onset is wanted, dB, > 0; default 1 and 3. */
  onsetsDb?: number[];
}

/** Whole runs further off than this are not taken for scatter, dB. */
const MOST_RUN_GAIN_DB = 0.8;
/** A measured step is counted with where its uncertainty is less than this share of it, or where it differs for certain. */
const SURE_STEP = 0.05;

/**
 * Build the compression ladder of one unit in one setting: how much of each drive step arrives in each third octave.
 *
 * @param curves responses with `about.driveDb`, in any order and on any grids, and noise runs among them. Two at the
 * same drive are averaged as repeats.
 * @param options see {@link LadderOptions}.
 * @returns levels, compression, signal-to-noise ratio and trust of each cell; onsets, ceilings, the step check, limiting
 * regions; caveats. Onset drives are in dB above the lowest rung, in measured dB where the measured step is used.
 * @throws BassloomError `missing-drive`, `mixed-devices`, `mixed-settings`, `mixed-scales`, `too-few-rungs`,
 * `no-whole-band`, `bad-onset`.
 *
 * Notes: bands are exact base-10 third octaves wholly inside all rungs, levels their power means less the noise power.
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
  const { rungs, noise: noiseRuns, caveats, ...about } = collectRungs(curves, options.noise);
  const bandsHz = commonBands(rungs);
  const noise = findNoise(rungs, noiseRuns, bandsHz);
  const asCommanded = measureCells(rungs, bandsHz, noise.of);
  const references = findReferences(asCommanded);
  const gains = commonGains(asCommanded, references);
  const found = checkStep(asCommanded.driveDb, gains);
  const runs = areAlike(found) ? (options.runs ?? 'evened') : 'as measured';
  const check = runs === 'evened' ? found : withoutRunGains(found);
  const stepUsed = isSure(found) ? wanted : 'commanded';
  const scale = stepUsed === 'measured' ? check.slope : 1;
  const drive = { ...asCommanded, driveDb: asCommanded.driveDb.map((db) => db * scale) };
  const cells = evenRuns(drive, check);
  const share = check.slope / scale;
  const levels = referenceLevels(cells, references, gains, check);
  const proofs = proveReferences(cells, references, gains, check, share);
  const compression = countCompression(cells, references, levels, proofs, check, gains.cellScatterDb);
  const tracks = bandsHz.map((_, band) => bandTrack(drive, compression, band));
  const limiting = tracks.map(findLimiting);
  const excess = check.step.differs ? Math.max(0, share - 1) : 0;
  const regions = findRegions(
    bandsHz,
    limiting,
    tracks.map((track) => track.length > 1),
  );
  return {
    scale: rungs[0].curves[0].scale,
    ...about,
    rungs: rungs.map(({ id, label, driveDb }) => ({ id, label, driveDb })),
    bandsHz,
    levelDb: asCommanded.levelDb.map(nulls),
    compressionDb: compression.lossDb.map(nulls),
    snrDb: cells.snrDb.map(nulls),
    trusted: compression.trusted,
    referenceRung: references,
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
      levelDb: bandsHz.map((_, band) => highestTrusted(asCommanded.levelDb, compression.trusted, band)),
      reached: limiting.map((found) => found !== null),
    },
    step: check.step,
    stepUsed,
    repeatScatterDb: check.repeatScatterDb,
    runGainDb: check.runGainDb,
    breaks: [],
    commonLossDb: rungs.map(() => null),
    regions,
    extent: regions.length > 0 ? 'parts' : 'unknown',
    caveats: [
      ...captureCaveats([...rungs.flatMap((rung) => rung.curves), ...noiseRuns]),
      ...asCaveats([
        ...caveats,
        ...noise.caveats,
        ...cellCaveats(asCommanded, levels, proofs),
        ...stepCaveats(rungs, found, { wanted, used: stepUsed }, runs),
        ...expansionCaveats(rungs, cells, compression, excess),
      ]),
    ],
  };
}

/** Whether runs scatter as repeats do: a run far off the others is a mistake or a limit, and is shown as it is. */
function areAlike({ runGainDb }: StepCheck): boolean {
  return runGainDb.every((db) => Math.abs(db) <= MOST_RUN_GAIN_DB);
}

/** Whether a step is known well enough to be counted with over a whole ladder. */
function isSure({ step }: StepCheck): boolean {
  return step.differs === true || (step.uncertaintyDb ?? Number.POSITIVE_INFINITY) <= SURE_STEP * step.commandedDb;
}

function withoutRunGains(check: StepCheck): StepCheck {
  // one run far off says nothing of how the others repeat
  const scatter = areAlike(check) ? (check.repeatScatterDb ?? Math.max(...check.runErrorDb)) : EXPECTED_SCATTER_DB;
  return { ...check, runGainDb: check.runGainDb.map(() => 0), runErrorDb: check.runErrorDb.map(() => scatter) };
}

function checkOptions(step: string, onsetsDb: number[]): void {
  if (step !== 'commanded' && step !== 'measured') {
    throw new BassloomError('bad-option', `There is no step '${step}'; use 'commanded' or 'measured'.`, {
      field: 'step',
    });
  }

  const bad = onsetsDb.find((db) => !(Number.isFinite(db) && db > 0));
  if (bad !== undefined) {
    throw new BassloomError('bad-onset', `An onset of ${bad} dB cannot be found; give compressions above 0 dB.`, {
      field: 'onsetsDb',
    });
  }
}

function highestTrusted(levelDb: number[][], trusted: boolean[][], band: number): number | null {
  const levels = levelDb.flatMap((row, rung) => (trusted[rung][band] ? [row[band]] : []));
  return levels.length > 0 ? Math.max(...levels) : null;
}

function nulls(row: number[]): (number | null)[] {
  return row.map((value) => (Number.isFinite(value) ? value : null));
}
