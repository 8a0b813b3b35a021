import { rungAt } from '../analysis/reference/ladderOf';
import type { Curve } from '../model/curve';
import type { Ladder } from '../model/findings';
import { bandAround } from '../model/octaves';
import { untrustedStretches } from '../response/caveatsFor';

/**
 * Find out where a curve can be trusted: what its ladder says of its rung, band by band;
 * without one, where it stands clear of the noise that came with it; without that, everywhere.
 *
 * @returns whether the curve can be trusted at a frequency in Hz. Beyond the ladder's bands the outermost band speaks.
 */
export function trustOf(curve: Curve, ladder?: Ladder): (hz: number) => boolean {
  const rung = ladder ? rungOf(curve, ladder) : -1;
  if (ladder && rung >= 0 && ladder.bandsHz.length > 0) {
    const edges = ladder.bandsHz.map((centre) => bandAround(centre, 3)[1]);
    const trusted = ladder.trusted[rung];
    return (hz) => {
      const band = edges.findIndex((edge) => hz <= edge);
      return trusted[band < 0 ? trusted.length - 1 : band];
    };
  }
  const last = curve.frequencyHz[curve.frequencyHz.length - 1];
  const stretches = untrustedStretches(curve, [[curve.frequencyHz[0], last]]);
  return (hz) => !stretches.some(([low, high]) => hz >= low && hz <= high);
}

/** Index of the rung that a curve is, by id, else by drive; -1 where it is none of them. */
export function rungOf(curve: Curve, ladder: Ladder): number {
  const byId = ladder.rungs.findIndex((rung) => rung.id === curve.id);
  if (byId >= 0) return byId;
  return rungAt(ladder, curve.about.driveDb);
}
