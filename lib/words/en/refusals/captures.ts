import type { CaveatValue } from '../../../model/caveat';
import type { Phrases } from '../../phrase';
import { given } from './given';

/** Captures of sweeps and bursts from which nothing can be read. */
export const captures = {
  'capture-too-long': ({ label, seconds }: { label: string; seconds: number }, _where, say) =>
    `${label}: it lasts ${say.number(seconds, 0)}\u00a0s; cut it to the sweep and some seconds around it.`,
  'capture-too-short': ({ label, samples }: { label: string; samples: number }, _where, say) =>
    `${label}: ${say.count(samples, 'sample')} cannot hold anything of a sweep. Record all of it.`,
  'no-sweep-found': ({ label }: { label: string }) =>
    `${label}: the stimulus is not in it. Check that this is the capture of that stimulus, that the right channel was taken, and that the microphone was on and loud enough.`,
  'wrong-sweep': ({ label }: { label: string }) =>
    `${label}: it holds another stimulus than the one given, or one played at another speed. Give the file that was played.`,
  'several-sweeps': ({ label }: { label: string }) =>
    `${label}: it holds the sweep more than once, and the first one is not whole. Cut it so that one whole sweep is left.`,
  'nothing-usable': () => 'The capture holds too little of the stimulus to read a response from; record all of it.',
  'stimulus-silent': ({ label }: { label: string }) =>
    `${label}: the stimulus is silent; give the file that was played, not its muted copy.`,
  'stimulus-too-long': ({ label, seconds, mostS }: { label: string; seconds: number; mostS: number }, _where, say) =>
    `${label}: the stimulus lasts ${say.number(seconds, 0)}\u00a0s, and no sweep to measure with lasts more than ${say.number(mostS, 0)}\u00a0s. Give the file that was played.`,
  'bad-noise': ({ label, rateHz }: { label: string; rateHz: number }, _where, say) =>
    `${label}: its sample rate of ${say.exact(rateHz, 'Hz')} is too low for the capture; record the noise as the sweep was recorded.`,
  'takes-no-band': ({ a, b, snrDb }: { a: string; b: string; snrDb: number }, _where, say) =>
    `‘${a}’ and ‘${b}’ share no third-octave band in which both stand ${say.exact(snrDb, 'dB')} above the noise. Measure louder, or over the same range.`,
  'no-captures': () => 'There is no capture; give recordings of the bursts.',
  'capture-rate': ({ rateHz, hz }: { rateHz: number; hz: number }, _where, say) =>
    `A capture with a sample rate of ${say.exact(rateHz, 'Hz')} cannot hold bursts at ${say.hz(hz)}; record at a higher sample rate.`,
  'bursts-not-found': ({ found, of }: { found: number; of: number }) =>
    `A capture does not hold this schedule of bursts: where it fits best, ${found} of ${of} were found. Check that this stimulus was played, that the right channel is taken, and that the capture is louder than the noise.`,
  'bad-limits': (
    values:
      | { why: 'none' }
      | { why: 'orders'; fromOrder: CaveatValue; toOrder: CaveatValue }
      | { why: 'level'; limitDb: CaveatValue },
    _where,
    say,
  ) => {
    const because =
      values.why === 'none'
        ? 'there are none'
        : values.why === 'orders'
          ? `the first order is ${given(values.fromOrder, say)} and the last is ${given(values.toOrder, say)}; orders are whole and rise from 2 or more`
          : `a limit is ${given(values.limitDb, say, 'dB')}; the most is ${say.exact(40, 'dB')}`;
    return `These limits of harmonics cannot be used: ${because}. Give whole orders and dB re the fundamental, such as 2 to 2 at ${say.exact(-10)}.`;
  },
} satisfies Phrases;
