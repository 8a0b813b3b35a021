import type { Curve } from '../../model/curve';
import type { Ladder } from '../../model/findings';
import { ladderOf, rungAt } from './ladderOf';
import { soundBands } from './soundBands';

/**
 * Choose the runs by which units are judged: of each unit, setting and position the lowest drive at which the most
 * third-octave bands from 10 to 200 Hz are trusted, 20 dB clear of the noise and lose less than 0.5 dB to compression.
 *
 * @param curves responses, and noise runs where there are any. @param ladders where they are built already.
 * @returns responses in the order in which they came. Responses of no known drive are all returned; of repeats at one
 * drive, the first.
 *
 * Notes: where no band of any rung is sound (or the runs make no ladder), the lowest drive is taken.
 *
 * @example
 * const run = (driveDb: number) => makeCurve({ frequencyHz: [20, 40], levelDb: [80 + driveDb, 80 + driveDb], about: { driveDb } });
 * referenceCurves([run(0)]) // [run(0)]
 */
export function referenceCurves(curves: Curve[], ladders: Ladder[] = []): Curve[] {
  const responses = curves.filter((curve) => curve.role === 'response');
  const groups = new Map<string, Curve[]>();
  for (const curve of responses) {
    const { device, setting, position, driveDb } = curve.about;
    const key = driveDb === undefined ? curve.id : JSON.stringify([device, setting, position]);
    groups.set(key, [...(groups.get(key) ?? []), curve]);
  }
  const chosen = new Set([...groups.values()].map((group) => chooseOne(group, curves, ladders)));
  return responses.filter((curve) => chosen.has(curve));
}

function chooseOne(group: Curve[], curves: Curve[], ladders: Ladder[]): Curve {
  if (group.length === 1) return group[0];
  const ladder = ladderOf(group[0].about, curves, ladders);
  const sound = ladder ? soundBands(ladder) : [];
  const soundness = (curve: Curve): number => sound[rungAt(ladder, curve.about.driveDb)]?.filter(Boolean).length ?? 0;
  const driveOf = (curve: Curve): number => curve.about.driveDb as number;
  return group.reduce((best, curve) => {
    const better = soundness(curve) - soundness(best) || driveOf(best) - driveOf(curve);
    return better > 0 ? curve : best;
  });
}
