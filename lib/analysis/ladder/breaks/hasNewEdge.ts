import type { Interval } from '../../../model/curve';
import { roughness } from './roughness';
import { noiseVariance, pointsWithin, type StepPoints } from './stepPoints';

/** Points up to this far on either side of an edge are held against each other, octaves. */
const SIDE_OCTAVES = 1 / 24;
/** An edge is steeper than this, dB per octave: an excursion limit under a fourth-order roll-off takes 12 more with each octave, set on limits of up to 18 ... */
const STEEP_DB = 24;
/** ... larger than this, dB, than so many standard deviations, and than this share of what is missing. */
const LEAST_DB = 0.6;
const SIGMAS = 5;
const SHARE = 0.4;
/** The step before shows it too where it is this share of it there. */
const THERE_ALREADY = 0.5;

/** Whether the difference of two runs has an edge within a range that the step before does not have. @param missingDb the most that is missing there. */
export function hasNewEdge(step: StepPoints, before: StepPoints, range: Interval, missingDb: number): boolean {
  const [from, to] = pointsWithin(step.frequencyHz, range);
  const scatterDb = roughness(step.differenceDb, from, to);
  for (let i = from + 1; i <= to; i++) {
    const edgeHz = Math.sqrt(step.frequencyHz[i - 1] * step.frequencyHz[i]);
    const here = jumpAt(step, edgeHz, scatterDb);
    const size = Math.abs(here.jumpDb);
    const least = Math.max(LEAST_DB, STEEP_DB * here.octaves, SIGMAS * here.errorDb, SHARE * missingDb);
    if (size > least && Math.abs(jumpAt(before, edgeHz, 0).jumpDb) < THERE_ALREADY * size) return true;
  }
  return false;
}

function jumpAt(points: StepPoints, edgeHz: number, scatterDb: number) {
  const { frequencyHz, differenceDb } = points;
  const above = frequencyHz.findIndex((hz) => hz >= edgeHz);
  if (above < 1) return { jumpDb: 0, octaves: 1, errorDb: 0 };
  const within = (i: number) => Math.abs(Math.log2(frequencyHz[i] / edgeHz)) <= SIDE_OCTAVES;
  let [from, to] = [above - 1, above];
  while (from > 0 && within(from - 1)) from--;
  while (to + 1 < frequencyHz.length && within(to + 1)) to++;
  const side = (first: number, last: number) => {
    const count = last - first + 1;
    let [level, octaves, squares] = [0, 0, 0];
    for (let i = first; i <= last; i++) {
      level += differenceDb[i] / count;
      octaves += Math.log2(frequencyHz[i]) / count;
      squares += Math.max(noiseVariance(points, i), scatterDb ** 2);
    }
    return { level, octaves, error: Math.sqrt(squares) / count };
  };
  const [low, high] = [side(from, above - 1), side(above, to)];
  return {
    jumpDb: high.level - low.level,
    octaves: high.octaves - low.octaves,
    errorDb: Math.hypot(low.error, high.error),
  };
}
