import { bandAround } from '../../../model/octaves';
import { median } from '../../fitting/median';
import { type Rung, table } from '../cells';
import { roughness } from './roughness';
import { noiseAmong, type PointNoise, pointsWithin, type StepPoints, stepPoints } from './stepPoints';

/** Points scatter too much from this on, dB (a burst that adds 0.25 dB to the band), and from so many times the noise and what they do in the other steps. */
const ROUGH_DB = 1.5;
const TIMES_NOISE = 2.5;
const TIMES_OTHERS = 3;
/** A band of fewer points is judged with those around it. */
const POINTS = 8;
/** A burst shows in so many bands; a limiter with an edge in one. */
const FEWEST_BANDS = 2;
/** The bands beside it belong to it from this share of that on. */
const FLANK = 0.5;

/**
 * Find cells whose points scatter from one to the next, against the runs below and above, as neither noise nor a limit makes
 * them: something else sounded while the sweep passed.
 *
 * @param row rungs that fit each other. @returns [rung][band], scatter in dB; 0 where nothing is odd.
 *
 * Notes: of the first and the last rung one step tells; where the rung beside is rough itself it is that one.
 */
export function findRoughCells(rungs: Rung[], row: number[], bandsHz: number[], noise: PointNoise): number[][] {
  const steps = row.slice(1).map((upper, i) => {
    const points = stepPoints(rungs[row[i]], rungs[upper], noise);
    return bandsHz.map((hz) => readBand(points, hz));
  });
  const usual = bandsHz.map((_, band) => (steps.length > 2 ? median(steps.map((step) => step[band].scatterDb)) : 0));
  const rough = steps.map((step) => {
    const shares = step.map(({ scatterDb, noiseDb }, band) => {
      const share = scatterDb / Math.max(ROUGH_DB, TIMES_OTHERS * usual[band]);
      // noise only lowers it
      return share > FLANK ? Math.min(share, scatterDb / (TIMES_NOISE * noiseDb())) : share;
    });
    return shares.map(
      (share, band) => share > 1 || (share > FLANK && Math.max(shares[band - 1] ?? 0, shares[band + 1] ?? 0) > 1),
    );
  });
  const found = table(rungs.length, bandsHz.length, () => 0);
  const both = (at: number, band: number) => rough[at - 1]?.[band] === true && rough[at]?.[band] === true;
  row.forEach((rung, at) => {
    const isEnd = at === 0 || at === row.length - 1;
    const beside = at === 0 ? 1 : row.length - 2;
    const bands = bandsHz.flatMap((_, band) => {
      const own = isEnd ? rough[Math.max(0, at - 1)]?.[band] && !both(beside, band) : both(at, band);
      return own ? [band] : [];
    });
    if (bands.length < FEWEST_BANDS) return;
    for (const band of bands) found[rung][band] = steps[Math.max(0, at - 1)][band].scatterDb;
  });
  return found;
}

function readBand(points: StepPoints, centreHz: number) {
  const { frequencyHz, differenceDb } = points;
  const edges = bandAround(centreHz, 3);
  let [from, to] = pointsWithin(frequencyHz, edges);
  if (from >= frequencyHz.length || to < 0) return { scatterDb: 0, noiseDb: () => 0 };
  while (to - from + 1 < POINTS && (from > 0 || to + 1 < frequencyHz.length)) {
    from = Math.max(0, from - 1);
    to = Math.min(frequencyHz.length - 1, to + 1);
  }
  return { scatterDb: roughness(differenceDb, from, to), noiseDb: () => noiseAmong(points, from, to) };
}
