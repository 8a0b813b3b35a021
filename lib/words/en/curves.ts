import type { CaveatValues } from '../../model/caveat';
import type { Interval } from '../../model/curve';
import type { Format } from '../format';
import type { Phrases } from '../phrase';

/** An end of a range, and where it is. */
type RangeEnd = { hz: number; end: 'low' | 'high' };

/** What speaks against numbers read from a curve: noise, roll-off, a session as a whole. */
export const curves = {
  'near-noise': ({ label, snrDb }: { label: string; snrDb: number }, { rangesHz = [] }, say) =>
    `${label}: the signal is less than ${say.db(snrDb, 0)} above the noise at ${placesIn(rangesHz, say)}; do not trust numbers read there.`,
  'fit-in-noise': ({ label, snrDb }: { label: string; snrDb: number }, _where, say) =>
    `${label}: the signal is nowhere clear of the noise (${say.db(snrDb, 0)} above it over a third of an octave), so neither range nor depth can be read. Measure louder or in less noise.`,
  'reference-band-missing': (_values: CaveatValues, { rangesHz = [] }, say) =>
    `The curve has nothing in the reference band (${say.hzRange(...rangesHz[0])}), so its maximum is the reference.`,
  'range-to-curve-end': ({ hz, end }: RangeEnd, _where, say) =>
    `At least this wide: the curve ${end === 'low' ? 'starts' : 'ends'} at ${say.hz(hz)}.`,
  'range-to-noise': ({ hz, end }: RangeEnd, _where, say) =>
    `At least this wide: noise hides the curve ${end === 'low' ? 'below' : 'above'} ${say.hz(hz)}.`,
  'range-to-mask': ({ hz, end }: RangeEnd, _where, say) =>
    `The range ${end === 'low' ? 'starts' : 'ends'} at ${say.hz(hz)}, at the edge of a masked stretch.`,
  'needed-height-of-part': (_values: CaveatValues, { rangesHz = [] }, say) =>
    `The curve covers only ${say.hzRange(...rangesHz[1])}; the needed height says nothing about the rest of ${say.hzRange(...rangesHz[0])}.`,
  'roll-off-misfit': ({ rmsErrorDb }: { rmsErrorDb: number }, _where, say) =>
    `No high-pass fits this curve: the best one misses it by ${say.db(rmsErrorDb)} rms. Only the mean slope is given; mask the room's dips or measure outdoors for more.`,
  'roll-off-little-fall': ({ fallDb, fromHz }: { fallDb: number; fromHz: number }, _where, say) =>
    `The curve falls by only ${say.db(fallDb)} down to ${say.hz(fromHz)}; order and slope are uncertain.`,
  'roll-off-no-pass-band': ({ toHz }: { toHz: number }, _where, say) =>
    `The curve has not levelled off by ${say.hz(toHz)}; corner frequency and Q are uncertain.`,
  'roll-off-floor': ({ floorHz, fromHz }: { floorHz: number; fromHz: number }, _where, say) =>
    `Near ${say.hz(floorHz)} the curve stops falling (noise, or the room); the fit starts at ${say.hz(fromHz)}.`,
  'roll-off-other-order': () => 'Another order fits the curve nearly as well.',
  'roll-off-upper': ({ cornerHz }: { cornerHz: number }, _where, say) =>
    `The fit includes an upper roll-off near ${say.hz(cornerHz)}.`,
  'roll-off-tilt': ({ tiltDb }: { tiltDb: number }, _where, say) =>
    `The fit includes a tilt of ${say.dbChange(tiltDb)} per octave.`,
} satisfies Phrases;

/** A stretch between two points of a grid may have no width. */
function placesIn(rangesHz: readonly Interval[], say: Format): string {
  return say.hzList(rangesHz.map(([low, high]) => (high > low ? ([low, high] as const) : low)));
}
