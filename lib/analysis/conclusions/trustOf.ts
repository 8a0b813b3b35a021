import type { Curve } from '../../model/curve';
import type { Ladder } from '../../model/findings';
import { bandAround } from '../../model/octaves';
import { untrustedStretches } from '../../response/caveatsFor';
import { rungOf } from '../reference/ladderOf';

/**
 * Find out where a curve can be trusted: what its ladder says of its rung, band by band;
 * without one, where it stands clear of the noise that came with it; without that, everywhere.
 *
 * @returns whether the curve can be trusted at a frequency in Hz. Beyond the ladder's bands the outermost band speaks.
 */
export function trustOf(curve: Curve, ladder?: Ladder): (hz: number) => boolean {
  const rung = ladder ? rungOf(ladder, curve.id, curve.about.driveDb) : -1;
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
