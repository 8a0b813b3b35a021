import type { Curve, Interval } from '../../model/curve';
import type { Ladder, SettingDifference } from '../../model/findings';
import { bandAround } from '../../model/octaves';
import { untrustedStretches } from '../../response/caveatsFor';
import { isInside } from '../../response/intervals';
import { limitedBands } from '../settingDifference/limitedBands';

/** What a difference does not use: bands in which a run is limited, or that noise hides. */
const NOT_USED = ['setting-limited', 'setting-band-untrusted', 'near-noise'];

/**
 * Find out where a difference of two settings can be trusted: where neither of the runs compared is limited or too close
 * to its noise, and not at the frequencies whose value is marked untrusted.
 *
 * @param curves in which the runs compared are looked for. @param ladders of the settings.
 * @returns whether the difference can be trusted at a frequency in Hz.
 */
export function trustOfDifference(
  { runs, caveats, at }: SettingDifference,
  curves: readonly Curve[],
  ladders: readonly Ladder[],
): (hz: number) => boolean {
  const told = caveats
    .filter(({ code }) => NOT_USED.includes(code))
    .flatMap(({ where }) => [...(where?.rangesHz ?? []), ...thirds(where?.bandsHz ?? [])]);
  const seen = [runs.a.curve, runs.b.curve].flatMap((id) => {
    const curve = curves.find((one) => one.id === id);
    if (!curve) return [];
    const bands = limitedBands(curve, ladders);
    const whole: Interval = [curve.frequencyHz[0], curve.frequencyHz[curve.frequencyHz.length - 1]];
    return [...untrustedStretches(curve, [whole]), ...thirds([...(bands?.limited ?? []), ...(bands?.untrusted ?? [])])];
  });
  const poor = [...told, ...seen, ...thirds(at.filter(({ trusted }) => !trusted).map((one) => one.frequencyHz))];
  return (hz) => !isInside(hz, poor);
}

function thirds(bandsHz: readonly number[]): Interval[] {
  return bandsHz.map((hz) => bandAround(hz, 3));
}
