import type { Caveat } from '../../model/caveat';
import type { Curve, Interval } from '../../model/curve';
import type { BandFit } from '../../model/findings';
import { isInside } from '../../response/intervals';
import { powerIntegral } from '../../response/powerIntegral';
import { makeCaveat } from '../../words/makeCaveat';
import { downPoint } from './downPoint';
import type { UnmaskedLine } from './unmaskedLine';

export interface DownPoints {
  referenceDb: number;
  points: BandFit['points'];
  caveats: Caveat[];
}

/** How far down the response is followed, dB. */
const STEPS_DB = [3, 6, 10];

/**
 * Find where a response has fallen 3, 6 and 10 dB below its reference.
 *
 * @param curve the response, unsmoothed. @param line the same, smoothed and unmasked. @param masksHz what was masked.
 * @param reference 'band': mean power over the band; 'maximum': highest level of the line. @param bandHz the band.
 * @param trustedHz where the curve stands clear of its noise.
 * @returns reference and points; where nothing of the band is in the curve, the maximum serves and a caveat says so.
 */
export function findDownPoints(
  curve: Curve,
  line: UnmaskedLine,
  masksHz: readonly Interval[],
  reference: 'band' | 'maximum',
  bandHz: Interval,
  trustedHz: Interval,
): DownPoints {
  const { x, y } = line;
  const [low, high] = [Math.max(Math.log2(bandHz[0]), x[0]), Math.min(Math.log2(bandHz[1]), x[x.length - 1])];
  const caveats: Caveat[] = [];
  let [from, to] = [low, high];
  let referenceDb = reference === 'band' && low <= high ? bandMeanDb(curve, masksHz, bandHz) : Number.NaN;
  if (Number.isNaN(referenceDb)) {
    const top = y.reduce((best, level, i) => (level > y[best] ? i : best), 0);
    referenceDb = y[top];
    [from, to] = [x[top], x[top]];
    if (reference === 'band') {
      caveats.push(makeCaveat('reference-band-missing', 'doubt', {}, { curve: curve.id, rangesHz: [bandHz] }));
    }
  }
  const hz = (at: number | null) => (at === null ? null : 2 ** at);
  const trusted: Interval = [Math.log2(trustedHz[0]), Math.log2(trustedHz[1])];
  const points = STEPS_DB.map((downDb) => {
    const below = downPoint(line, from, referenceDb - downDb, -1, trusted);
    const above = downPoint(line, to, referenceDb - downDb, 1, trusted);
    const [lowDipsHz, highDipsHz] = [below, above].map(({ dips }) => dips.map((at) => 2 ** at));
    return {
      downDb,
      lowHz: hz(below.at),
      highHz: hz(above.at),
      ...(lowDipsHz.length > 0 && { lowDipsHz }),
      ...(highDipsHz.length > 0 && { highDipsHz }),
    };
  });
  return { referenceDb, points, caveats };
}

function bandMeanDb({ frequencyHz, levelDb }: Curve, masksHz: readonly Interval[], [low, high]: Interval): number {
  // of all points below the band only the last one counts, and of those above only the first
  let from = Math.max(
    frequencyHz.findLastIndex((f) => f <= low),
    0,
  );
  while (from > 0 && isInside(frequencyHz[from], masksHz)) from--;
  const [hz, db]: [number[], number[]] = [[], []];
  for (let i = from; i < frequencyHz.length && !(hz[hz.length - 1] >= high); i++) {
    if (isInside(frequencyHz[i], masksHz)) continue;
    hz.push(frequencyHz[i]);
    db.push(levelDb[i]);
  }
  return powerIntegral(hz, db).meanDb(low, high);
}
