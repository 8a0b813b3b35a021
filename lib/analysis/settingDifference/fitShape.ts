import { upperMedian } from '../fitting/upperMedian';
import type { DifferenceLine } from './differenceLine';
import type { DifferenceSamples } from './differenceSamples';
import { fitterOf, lowest, type ShapeFit } from './shapeFitter';
import { bell, highPass, lineOf, lowPass, movedCorner, shelf, unchanged } from './shapes';
import { restDb } from './windowRests';

/** What is left of samples runs in waves: about so many of them an octave are independent. */
const INDEPENDENT_PER_OCTAVE = 3;
/** Nothing is gained by fitting more closely than this, in units of sigma. */
const CLOSE_ENOUGH = 0.1;
/** Schwarz's criterion of a shape that the data speak against is higher by this. */
const CLEARLY_WORSE = 5;
/** Asymptotes that differ by less than this part agree. */
const AGREEMENT = 0.04;
/** A shape that leaves so many times more than another is not tried with other orders. */
const HOPELESS = 10;
/** Corners that are looked at. */
const CORNERS = 12;
/** What switches are mostly made of; other orders are tried from there. */
const ORDERS = [1, 2];

/**
 * Fit every shape that a switch may have, and an offset, and return the simplest of those that leave least.
 *
 * @param families whether all of them are tried, or those only that leave the upper end alone.
 *
 * Notes: starts are taken from a coarse grid of corners, the best of each shape are followed by robust least squares.
 * An offset counts as one more sample at 0 +- 0.15 dB, which keeps it from standing in for the foot of a shelf where the
 * range is narrow. Shapes are weighed by Schwarz's criterion (Ann. Statist. 6 (1978) 461-464).
 */
export function fitShape(samples: DifferenceSamples, families: 'all' | 'low end'): DifferenceLine | undefined {
  const { hz, differenceDb: y } = samples;
  if (hz.length < 6) return undefined;
  const aboveDb = upperMedian(y.slice(-Math.ceil(y.length / 5)));
  const belowDb = upperMedian(y.slice(0, Math.ceil(y.length / 10)));
  const fitted = fitterOf(samples);
  const fits = [
    fitted(unchanged, [[]], aboveDb),
    ...lowEndFits(hz, fitted, aboveDb, belowDb),
    ...(families === 'all' ? [...lowPassFits(hz, fitted, aboveDb, belowDb), bellFit(samples, fitted)] : []),
  ];
  const [best, ...rivals] = bySimplicity(fits, Math.log2(hz[hz.length - 1] / hz[0]));
  const [offsetDb, parameters] = [best.parameters[0], own(best)];
  const line = lineOf(best.shape, parameters);
  const db = (f: number): number => line(Math.log(f));
  return {
    kind: best.shape.kind,
    offsetDb,
    db,
    asymptoteDb: asymptoteOf(best),
    agreed: agree(best, rivals),
    restDb: restDb(samples, (f) => offsetDb + db(f)),
  };
}

type Fitter = ReturnType<typeof fitterOf>;

function lowEndFits(hz: number[], fitted: Fitter, aboveDb: number, belowDb: number): ShapeFit[] {
  const lowDb = belowDb - aboveDb;
  const shelves = ORDERS.map((n) => fitted(shelf(n), shelfStarts(hz, lowDb), aboveDb));
  const passes = ORDERS.map((n) => fitted(highPass(lowDb < 0 ? 1 : -1, n), passStarts(hz), aboveDb));
  const [shelved, passed] = [shelves, passes].map(lowest);
  const worth = (fit: ShapeFit) => isWorth(fit, [shelved, passed]);
  return [
    ...shelves,
    ...passes,
    ...(worth(shelved) ? [fitted(shelf(), [withOrder(shelved, shelves)], aboveDb)] : []),
    ...(worth(passed) ? [fitted(highPass(lowDb < 0 ? 1 : -1), [withOrder(passed, passes)], aboveDb)] : []),
    fitted(movedCorner, movedStarts(shelved, passed, hz[0]), aboveDb),
  ];
}

function lowPassFits(hz: number[], fitted: Fitter, aboveDb: number, belowDb: number): ShapeFit[] {
  const sign = aboveDb < belowDb ? 1 : -1;
  const passes = ORDERS.map((n) => fitted(lowPass(sign, n), passStarts(hz), belowDb));
  return [...passes, fitted(lowPass(sign), [withOrder(lowest(passes), passes)], belowDb)];
}

function bellFit({ hz, differenceDb }: DifferenceSamples, fitted: Fitter): ShapeFit {
  const levelDb = upperMedian(differenceDb.slice());
  const starts = passStarts(hz).flatMap(([at]) =>
    [-6, -3, 3, 6].flatMap((db) => [0.7, 2, 5].map((q) => [at, db, Math.log(q)])),
  );
  return fitted(bell(hz[0], hz[hz.length - 1]), starts, levelDb);
}

function isWorth(fit: ShapeFit, among: ShapeFit[]): boolean {
  return fit.cost < HOPELESS * (lowest(among).cost + CLOSE_ENOUGH ** 2);
}

const withOrder = (one: ShapeFit, fits: ShapeFit[]): number[] => [...own(one), Math.log(ORDERS[fits.indexOf(one)])];

const own = ({ parameters }: ShapeFit): number[] => [...parameters.subarray(1)];

/** The fit that explains most with least, and those that are not clearly worse. */
function bySimplicity(fits: ShapeFit[], octaves: number): ShapeFit[] {
  const looks = Math.max(4, INDEPENDENT_PER_OCTAVE * octaves);
  const badness = ({ cost, parameters }: ShapeFit): number =>
    looks * Math.log(cost + CLOSE_ENOUGH ** 2) + parameters.length * Math.log(looks);
  const sorted = fits.map((fit) => ({ fit, badness: badness(fit) })).sort((a, b) => a.badness - b.badness);
  return sorted.filter((one) => one.badness < sorted[0].badness + CLEARLY_WORSE).map(({ fit }) => fit);
}

const asymptoteOf = (fit: ShapeFit): number | null => fit.shape.asymptoteDb(own(fit));

function agree(best: ShapeFit, rivals: ShapeFit[]): boolean {
  const asymptoteDb = asymptoteOf(best);
  if (asymptoteDb === null) return false;
  return rivals.every((rival) => {
    const other = asymptoteOf(rival);
    return other !== null && Math.abs(other - asymptoteDb) < AGREEMENT * Math.abs(asymptoteDb);
  });
}

/** Corners, evenly over the range. */
function corners(hz: number[]): number[] {
  const [low, high] = [Math.log(hz[0]), Math.log(hz[hz.length - 1])];
  return Array.from({ length: CORNERS }, (_, i) => low + ((i + 0.25) / CORNERS) * (high - low));
}

function shelfStarts(hz: number[], lowDb: number): number[][] {
  return corners(hz).flatMap((at) => [lowDb, 1.5 * lowDb].map((db) => [at, db]));
}

function passStarts(hz: number[]): number[][] {
  return corners(hz).map((at) => [at, 0]);
}

/** A shelf or a high-pass already fitted, said in corners. */
function movedStarts(shelved: ShapeFit, passed: ShapeFit, lowHz: number): number[][] {
  const [at, db] = own(shelved);
  const half = (db * Math.LN10) / 80;
  const [corner, k] = own(passed);
  const below = Math.log(lowHz / 3);
  const second = db < 0 ? [below, 0, corner, k] : [corner, k, below, 0];
  return [...[-0.4, 0, 0.7].map((k) => [at + half, k, at - half, k]), second];
}
