import type { CaveatValue } from '../../../model/caveat';
import { type Listed, numbered } from '../../numbered';
import type { Phrases } from '../../phrase';
import { given } from './given';

const RECORDER = {
  sampleRateHz: 'whole Hz from 8000 up',
  clockPpm: '10000 ppm or less, to either side',
  latencyMs: 'from 0 to 10000 ms',
  startS: 'a start before the recording ends',
  bits: '16, 24 or 32',
  railDbfs: '0 dBFS or less',
  channels: 'from 1 to 8',
};

/** What the virtual rig cannot do. */
export const rig = {
  'unknown-setting': ({ setting, ...known }: { setting: string } & Listed, _where, say) =>
    `The rig has no setting '${setting}'; it has ${say.list(numbered<string>(known, 'known').map((name) => `'${name}'`))}.`,
  'recorder-option': ({ option, value }: { option: keyof typeof RECORDER; value: CaveatValue }, _where, say) =>
    `The recorder cannot do that: ${option} is ${given(value, say)}; give ${RECORDER[option]}.`,
  'rig-too-long': ({ seconds, mostS }: { seconds: number; mostS: number }, _where, say) =>
    `The virtual rig plays up to ${say.number(mostS, 0)}\u00a0s; this takes ${say.number(seconds, 0)}\u00a0s. Give a shorter stimulus.`,
  'bad-grid': (
    { startHz, endHz, density }: { startHz: CaveatValue; endHz: CaveatValue; density: CaveatValue },
    _where,
    say,
  ) =>
    `The grid's start is ${given(startHz, say, 'Hz')}, its end is ${given(endHz, say, 'Hz')} and its number of points per octave or hertz is ${given(density, say)}. It must start above 0, end higher and have points.`,
} satisfies Phrases;
