import type { Curve, Interval } from '../../model/curve';
import { levelOf } from '../../model/decibel';
import type { Distortion } from '../../model/findings';
import { thirdOctaveCentres } from '../../model/octaves';
import { captureCaveats } from '../../response/captureCaveats';
import { makeRefusal } from '../../words/makeRefusal';
import { asNumbered } from '../../words/numbered';
import { collectTakes, type DistortionRung } from './collectTakes';
import { distortionCaveats } from './distortionCaveats';
import { type DistortionCell, distortionCells } from './distortionCells';
import { doubtCells } from './doubtCells';
import { findPass } from './findPass';

export interface DistortionOptions {
  /** Percentages of THD whose passing is looked for, > 0; default 3 and 10. */
  percents?: number[];
}

/** THD sums up the orders from 2 to this. */
const HIGHEST_ORDER = 5;

/**
 * Measure the harmonic distortion of one unit in one setting over frequency and drive.
 *
 * @param curves responses and their harmonics, as they come out of captured sweeps, in any order and on any grids; runs
 * at one drive are repeats and are power-averaged. Runs of no known drive count as one rung at 0 dB.
 * @param options see {@link DistortionOptions}.
 * @returns by rung and third-octave band of the fundamental: THD (%), harmonics (dB re the fundamental), what noise alone
 * would read (%), trust, level of the fundamental; where THD first passes each percentage; caveats.
 * @throws BassloomError `no-harmonics`, `no-whole-band`, `mixed-devices`, `mixed-settings`, `mixed-scales`,
 * `mixed-curves`, `weighted-curves`, `bad-percent`.
 *
 * Notes: THD is the root of the summed power of harmonics 2 to 5 (or those that all runs have) over the fundamental, from
 * power means over the band of the fundamental. Bands are exact base-10 third octaves wholly inside response and lowest
 * harmonic of any run; rungs that do not reach one have no values there. The topmost bands are left out where no rung
 * has all orders of THD in them, as harmonics are followed up to a frequency of their own; where more than half of the
 * bands would go, all stay, with a caveat. Noise power is taken off fundamental and harmonics where it is known; THD is
 * trusted where both stand 10 dB above it. THD passes a percentage where straight lines between rungs, log % over drive, first reach it; where it never does,
 * `levelDb` says up to which level at least it stays below, harmonics and noise together. A cell whose distortion vanishes
 * with more drive, or that nothing around it bears out, is a disturbance of one run most likely: it is untrusted, named in
 * a caveat and passed over.
 *
 * Limits: as measured at that place. The room lifts and cuts harmonic and fundamental differently; in a band in which it
 * cuts the fundamental, distortion reads too high. Buzzes and rattles are not harmonics of low order and hardly show.
 *
 * Reference: IEC 60268-21 (harmonic distortion), IEC 61260-1:2014 (bands). 3 % and 10 %: common practice, no source.
 *
 * @example
 * const f = [10, 20, 40, 80];
 * const at = (db: number) => f.map(() => db);
 * const response = makeCurve({ frequencyHz: f, levelDb: at(90) });
 * const second = makeCurve({ frequencyHz: f, levelDb: at(-40), noiseDb: at(-80), role: 'harmonic', order: 2 });
 * measureDistortion([response, second]).thdPercent[0] // 1 % in every band
 */
export function measureDistortion(curves: Curve[], options: DistortionOptions = {}): Distortion {
  const { percents = [3, 10] } = options;
  checkPercents(percents);
  const { rungs, caveats } = collectTakes(curves);
  const { orders, thdOrders } = ordersOf(rungs);
  const { bandsHz, cells } = withoutPartialTop(rungs, bandsOf(rungs, thdOrders[0]), orders, thdOrders);
  const doubts = doubtCells(cells);
  // what is doubted neither passes a percentage nor shows that a band stays below it
  for (const { rung, band } of doubts) Object.assign(cells[rung][band], { trusted: false, most: Number.NaN });
  const table = (of: (cell: DistortionCell) => number) => cells.map((row) => row.map((cell) => finite(of(cell))));
  const driveDb = rungs.map((rung) => rung.driveDb - rungs[0].driveDb);
  const passes = percents.map((percent) => ({
    percent,
    bands: bandsHz.map((_, band) => {
      const column = cells.map((row) => row[band]);
      return findPass(column, driveDb, percent);
    }),
  }));
  const used = usedCurves(rungs);
  const { device, setting } = used[0].about;
  return {
    ...(device !== undefined && { device }),
    ...(setting !== undefined && { setting }),
    rungs: rungs.map(({ curve, label, driveDb: drive }) => ({ curve, label, driveDb: drive })),
    bandsHz,
    thdToOrder: thdOrders[thdOrders.length - 1],
    thdPercent: table(({ thd }) => percentOf(thd)),
    harmonics: orders.map((order, i) => ({ order, levelDb: table(({ harmonics }) => levelOf(harmonics[i])) })),
    noisePercent: table(({ noise }) => percentOf(noise)),
    trusted: cells.map((row) => row.map((cell) => cell.trusted)),
    levelDb: table(({ fundamental }) => levelOf(fundamental)),
    scale: used[0].scale,
    passes: passes.map(({ percent, bands }) => ({
      percent,
      driveDb: bands.map((pass) => pass.driveDb),
      levelDb: bands.map((pass) => pass.levelDb),
      reached: bands.map((pass) => pass.reached),
    })),
    caveats: [
      ...captureCaveats(used),
      ...caveats,
      ...distortionCaveats(rungs, bandsHz, cells, thdOrders, passes, doubts),
    ],
  };
}

/** Responses first: they give a capture its name. */
function usedCurves(rungs: DistortionRung[]): Curve[] {
  const takes = rungs.flatMap((rung) => rung.takes);
  return [...takes.flatMap((take) => take.responses), ...takes.flatMap((take) => [...take.harmonics.values()].flat())];
}

function ordersOf(rungs: DistortionRung[]): { orders: number[]; thdOrders: number[] } {
  const takes = rungs.flatMap((rung) => rung.takes);
  const orders = [...new Set(takes.flatMap((take) => [...take.harmonics.keys()]))].sort((a, b) => a - b);
  const thdOrders = orders.filter(
    (order) => order <= HIGHEST_ORDER && takes.every((take) => take.harmonics.has(order)),
  );
  if (thdOrders.length > 0) return { orders, thdOrders };
  throw makeRefusal('no-harmonics', { why: 'none in common' }, { field: 'curves' });
}

/** The bands that a run reaches, response and lowest harmonic alike, of all runs. */
function bandsOf(rungs: DistortionRung[], lowestOrder: number): number[] {
  const ranges = rungs
    .flatMap((rung) => rung.takes)
    .map(({ responses, harmonics }): Interval => {
      const grids = [...responses, ...(harmonics.get(lowestOrder) ?? [])].map(({ frequencyHz }) => frequencyHz);
      return [Math.max(...grids.map((grid) => grid[0])), Math.min(...grids.map((grid) => grid[grid.length - 1]))];
    });
  const bandsHz = [...new Set(ranges.flatMap((range) => thirdOctaveCentres(...range)))].sort((a, b) => a - b);
  if (bandsHz.length > 0) return bandsHz;
  const all = asNumbered({ lowHz: ranges.map(([low]) => low), highHz: ranges.map(([, high]) => high) });
  throw makeRefusal('no-whole-band', { of: 'distortion', ...all }, { field: 'frequencyHz' });
}

/** Bands and their cells, less those at the top in which no rung has all orders of THD. */
function withoutPartialTop(
  rungs: DistortionRung[],
  bandsHz: number[],
  orders: number[],
  thdOrders: number[],
): { bandsHz: number[]; cells: DistortionCell[][] } {
  const cells = distortionCells(rungs, bandsHz, orders, thdOrders);
  const isWhole = (_: number, band: number) => cells.some((row) => row[band].reached && row[band].missing.length === 0);
  const kept = bandsHz.findLastIndex(isWhole) + 1;
  if (kept < bandsHz.length / 2) return { bandsHz, cells };
  return { bandsHz: bandsHz.slice(0, kept), cells: cells.map((row) => row.slice(0, kept)) };
}

function checkPercents(percents: number[]): void {
  const bad = percents.find((percent) => !(Number.isFinite(percent) && percent > 0));
  if (bad === undefined) return;
  throw makeRefusal('bad-percent', { value: bad }, { field: 'percents' });
}

function percentOf(powerRatio: number): number {
  return powerRatio > 0 ? 100 * Math.sqrt(powerRatio) : Number.NaN;
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}
