import type { Format } from '../format';
import type { Phrases } from '../phrase';

/** Room features and what is masked because of them. */
export const room = {
  'dip-in-noise': ({ snrDb }: { snrDb: number }, _where, say) =>
    `The bottom of this dip lies less than ${say.db(snrDb, 0)} above the noise: it is at least this deep.`,
  'feature-hidden': ({ hidden, of }: { hidden: number; of: number }, _where, say) =>
    `Noise hides this frequency in ${hidden} of ${say.count(of, 'curve')}.`,
  'room-unlike': ({ correlation }: { correlation: number }, _where, say) =>
    `The curves do not resemble what the given room predicts (correlation ${say.number(correlation, 1)}), so it explains nothing here. Check its dimensions, and where source and microphone stand.`,
  'dips-not-masked': (
    { masked, unknown, unit }: { masked: number; unknown: number; unit: number },
    { rangesHz = [] },
    say,
  ) => {
    const left = [
      ...(unknown > 0 ? [`${say.count(unknown, 'dip')} not shown to be the room's`] : []),
      ...(unit > 0 ? [`${say.count(unit, 'dip')} of the unit's own`] : []),
    ];
    return `${say.list(left)} (${say.hzList(rangesHz)}) stayed in; ${masked === 0 ? 'none was' : masked === 1 ? '1 was' : `${masked} were`} masked.`;
  },
  'cause-mode': ({ kind, ...mode }: ModeName & { kind: string }, _where, say) => `${kind} ${nameOf(mode, say)}`,
  'cause-interference': (
    { order, frequencyHz, otherOrder, otherHz }: ModeName & { otherOrder: string; otherHz: number },
    _where,
    say,
  ) => `${nameOf({ order, frequencyHz }, say)} against ${nameOf({ order: otherOrder, frequencyHz: otherHz }, say)}`,
  'cause-boundary': ({ boundary, detourM }: { boundary: string; detourM: number }, _where, say) =>
    `reflection from the ${boundary}, detour ${say.number(detourM, 2)} m`,
  'cause-signature': ({ units }: { units: number }) => `seen with ${units} units`,
} satisfies Phrases;

type ModeName = { order: string; frequencyHz: number };

function nameOf({ order, frequencyHz }: ModeName, say: Format): string {
  return frequencyHz === 0 ? 'uniform pressure (0,0,0)' : `mode (${order}) at ${say.number(frequencyHz, 1)} Hz`;
}
