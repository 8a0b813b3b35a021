import { upperMedian } from '../fitting/upperMedian';
import type { DifferenceLine } from './differenceLine';
import type { DifferenceSamples } from './differenceSamples';
import { restDb } from './restDb';
import { fitterOf, lowest, type ShapeFit } from './shapeFitter';
import { highPass, lineOf, movedCorner, shelf, unchanged } from './shapes';

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
 * Notes: starts are taken from a coarse grid of corners, the best of each shape are followed by robust least squares.
 * An offset counts as one more sample at 0 +- 0.15 dB, which keeps it from standing in for the foot of a shelf where the
 * range is narrow. Shapes are weighed by Schwarz's criterion (Ann. Statist. 6 (1978) 461-464).
 */
export function fitShape(samples: DifferenceSamples): DifferenceLine | undefined {
  const { hz, differenceDb: y } = samples;
  if (hz.length < 6) return undefined;
  const aboveDb = upperMedian(y.slice(-Math.ceil(y.length / 5)));
  const lowDb = upperMedian(y.slice(0, Math.ceil(y.length / 10))) - aboveDb;
  const sign = lowDb < 0 ? 1 : -1;
  const fitted = fitterOf(samples, aboveDb);
  const shelves = ORDERS.map((n) => fitted(shelf(n), shelfStarts(hz, lowDb)));
  const passes = ORDERS.map((n) =>
    fitted(
      highPass(sign, n),
      corners(hz).map((at) => [at, 0]),
    ),
  );
  const [shelved, passed] = [shelves, passes].map(lowest);
  const withOrder = (one: ShapeFit, fits: ShapeFit[]) => [...own(one), Math.log(ORDERS[fits.indexOf(one)])];
  const worth = (fit: ShapeFit) => fit.cost < HOPELESS * (Math.min(shelved.cost, passed.cost) + CLOSE_ENOUGH ** 2);
  const fits = [
    fitted(unchanged, [[]]),
    ...shelves,
    ...passes,
    ...(worth(shelved) ? [fitted(shelf(), [withOrder(shelved, shelves)])] : []),
    ...(worth(passed) ? [fitted(highPass(sign), [withOrder(passed, passes)])] : []),
    fitted(movedCorner, movedStarts(shelved, passed, hz[0])),
  ];
  const [best, ...rivals] = bySimplicity(fits, Math.log2(hz[hz.length - 1] / hz[0]));
  const [offsetDb, parameters] = [best.parameters[0], own(best)];
  const line = lineOf(best.shape, parameters);
  const db = (f: number): number => line(Math.log(f));
  return {
    offsetDb,
    db,
    asymptoteDb: asymptoteOf(best),
    agreed: agree(best, rivals),
    restDb: restDb(samples, (f) => offsetDb + db(f)),
  };
}

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

/** A shelf or a high-pass already fitted, said in corners. */
function movedStarts(shelved: ShapeFit, passed: ShapeFit, lowHz: number): number[][] {
  const [at, db] = own(shelved);
  const half = (db * Math.LN10) / 80;
  const [corner, k] = own(passed);
  const below = Math.log(lowHz / 3);
  const second = db < 0 ? [below, 0, corner, k] : [corner, k, below, 0];
  return [...[-0.4, 0, 0.7].map((k) => [at + half, k, at - half, k]), second];
}
