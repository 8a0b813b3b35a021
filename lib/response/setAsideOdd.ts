import type { Curve } from '../model/curve';

/** Why a run cannot be judged together with the others. */
export type WhySetAside = 'scale' | 'drive' | 'range';

/** A run needs that many points in the range that it shares with the others, and that many octaves. */
const FEWEST_POINTS = 8;
const FEWEST_OCTAVES = 1;

/**
 * Part runs that are to be judged together into those that can be, and odd ones that would spoil it for all: on another
 * scale than most, with no drive where others have one, or without a range in common with most (another range, or cut
 * after a few points).
 *
 * @param runs responses of one unit and setting. Common is what lies between the median lower and the median upper end;
 * a run shares enough of it with an octave and eight points there, of narrow or coarse runs with half of theirs.
 * @returns all runs, in the order in which they came; nothing is set aside of a single one.
 *
 * @example
 * setAsideOdd([curve, louder, { ...curve, scale: 'spl' }]).aside // [{ run, why: 'scale' }]
 */
export function setAsideOdd(runs: Curve[]): { kept: Curve[]; aside: { run: Curve; why: WhySetAside }[] } {
  const scale = mostCommon(runs.map((run) => run.scale));
  const ofScale = runs.filter((run) => run.scale === scale);
  const hasDrive = ofScale.some(({ about }) => about.driveDb !== undefined);
  const lowHz = median(ofScale.map(({ frequencyHz }) => frequencyHz[0]));
  const highHz = median(ofScale.map(({ frequencyHz }) => frequencyHz[frequencyHz.length - 1]));
  const pointsIn = ({ frequencyHz }: Curve) => frequencyHz.filter((hz) => hz >= lowHz && hz <= highHz);
  const octaves = Math.min(FEWEST_OCTAVES, Math.log2(highHz / lowHz) / 2);
  const points = Math.min(FEWEST_POINTS, median(ofScale.map((run) => pointsIn(run).length)) / 2);
  const whyOf = (run: Curve): WhySetAside | undefined => {
    if (run.scale !== scale) return 'scale';
    if (hasDrive && run.about.driveDb === undefined) return 'drive';
    const own = pointsIn(run);
    const isOdd = own.length === 0 || own.length < points || Math.log2(own[own.length - 1] / own[0]) < octaves;
    return isOdd ? 'range' : undefined;
  };
  const judged = runs.map((run) => ({ run, why: runs.length > 1 ? whyOf(run) : undefined }));
  return {
    kept: judged.filter(({ why }) => why === undefined).map(({ run }) => run),
    aside: judged.flatMap(({ run, why }) => (why === undefined ? [] : [{ run, why }])),
  };
}

/** The first of those that occur most often. */
function mostCommon<T>(items: T[]): T | undefined {
  const counts = new Map<T, number>();
  for (const item of items) counts.set(item, (counts.get(item) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0];
}

function median(values: number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor((values.length - 1) / 2)];
}
