import type { CaveatValue } from '../../../model/caveat';
import type { Phrases } from '../../phrase';
import { given } from './given';

/** Sweeps and bursts that cannot be made, or are none. */
export const sweeps = {
  'sweep-rate': ({ rateHz }: { rateHz: CaveatValue }, _where, say) =>
    `The sample rate is ${given(rateHz, say, 'Hz')}; give whole Hz, such as 48000.`,
  'sweep-range': (
    { startHz, endHz, rateHz }: { startHz: CaveatValue; endHz: CaveatValue; rateHz: number },
    _where,
    say,
  ) =>
    `Cannot make this sweep: its start is ${given(startHz, say, 'Hz')} and its end is ${given(endHz, say, 'Hz')}. It must rise, from above 0 to below half the sample rate, ${say.exact(rateHz / 2, 'Hz')}.`,
  'sweep-time': (
    { seconds, leastS, mostS }: { seconds: CaveatValue; leastS: number | null; mostS: number | null },
    _where,
    say,
  ) =>
    leastS === null || mostS === null
      ? `The sweep's duration is ${given(seconds, say, 's')}; give seconds above 0, such as 20.`
      : `The sweep's duration is ${given(seconds, say, 's')}; this range and sample rate need more than ${say.number(leastS, 2)} and less than ${say.exact(mostS, 's')}.`,
  'sweep-level': ({ levelDbfs }: { levelDbfs: CaveatValue }, _where, say) =>
    `The level is ${given(levelDbfs, say, 'dBFS')}; give 0 or less and above ${say.exact(-200)}, such as ${say.exact(-15)}.`,
  'burst-rate': ({ rateHz }: { rateHz: CaveatValue }, { field }, say) =>
    `Cannot make these bursts: ${field} is ${given(rateHz, say, 'Hz')}; give whole Hz, such as 48000.`,
  'burst-range': ({ fromHz, toHz }: { fromHz: CaveatValue; toHz: CaveatValue }, _where, say) =>
    `Cannot make these bursts: fromHz is ${given(fromHz, say)} and toHz is ${given(toHz, say)}; give a range that rises, from 1 Hz or more to less than a third of the sample rate.`,
  'burst-level': (values: { lowestDbfs: CaveatValue; highestDbfs: CaveatValue; stepDb: CaveatValue }, _where, say) =>
    `Cannot make these bursts: lowestDbfs is ${given(values.lowestDbfs, say)}, highestDbfs is ${given(values.highestDbfs, say)} and stepDb is ${given(values.stepDb, say)}; levels must rise in steps above 0 dB, from above ${say.exact(-200)} to 0 dBFS or less.`,
  'burst-gap': ({ seconds }: { seconds: CaveatValue }, { field }, say) =>
    `Cannot make these bursts: ${field} is ${given(seconds, say, 's')}; give seconds, 0 or more.`,
  'burst-too-long': ({ bursts }: { bursts: number }, _where, say) =>
    `Cannot make ${say.count(bursts, 'burst')}: the sound would be too long. Give a larger stepDb or fewer frequencies.`,
  'not-bursts': (
    {
      label,
      cycles,
      why,
      atS,
    }: {
      label: string | null;
      cycles: number;
      why: 'silent' | 'no-silence' | 'too-short' | 'unlike';
      atS: number | null;
    },
    _where,
    say,
  ) => {
    const sound = atS === null ? 'a sound' : `the sound at ${say.number(atS, 2)}\u00a0s`;
    const because = {
      silent: 'it is silent',
      'no-silence': 'it is silent throughout, or never silent',
      'too-short': `${sound} is too short`,
      unlike: `${sound} is not such a burst`,
    };
    return `${label === null ? '' : `${label}: `}This stimulus is not a schedule of bursts of ${say.exact(cycles)} cycles between silences: ${because[why]}. Give the file that was played, unchanged.`;
  },
} satisfies Phrases;
