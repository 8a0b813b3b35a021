import type { CaveatValue } from '../../../model/caveat';
import { modelRefusals } from '../../../model/refusals';
import type { Format } from '../../format';
import { type Listed, numbered } from '../../numbered';
import type { Phrases, Place } from '../../phrase';
import { given } from './given';

const DIFFERS = {
  scale: 'scale',
  role: 'role',
  order: 'order',
  'microphone correction': 'microphone correction',
};
const ROLES = { harmonic: 'harmonic', correction: 'correction' };

/** Curves and what is done to them: average, smooth, weight, correct, noise. */
export const curves = {
  'empty-curve': modelRefusals['empty-curve'],
  'frequency-not-rising': modelRefusals['frequency-not-rising'],
  'bad-interval': ({ low, high }: { low: CaveatValue; high: CaveatValue }, { field }: Place, say: Format) =>
    `${field}: the low end is ${given(low, say)}, the high end is ${given(high, say)}. Give a low and a higher frequency in Hz, such as [45, 55].`,
  'no-common-range': (ranges: Listed, _where, say) => {
    const [lows, highs] = [numbered<number>(ranges, 'lowHz'), numbered<number>(ranges, 'highHz')];
    const curves = numbered<string>(ranges, 'label').map(
      (label, i) => `‘${label}’ (${say.hzRange(lows[i], highs[i])})`,
    );
    return `These curves have no frequencies in common: ${say.list(curves)}. Give curves whose ranges overlap.`;
  },
  'all-masked': ({ label }: { label: string }) =>
    `${label}: the masks cover the whole curve; leave some of it unmasked.`,
  'bad-fraction': ({ label, fraction }: { label: string; fraction: CaveatValue }, { field }, say) =>
    `${label}: cannot smooth: ${field} is ${given(fraction, say)}; give a number above 0, such as 12 for 1/12 octave.`,
  'bad-method': ({ method }: { method: CaveatValue }, _where, say) =>
    `The method of the average is ${given(method, say)}; give 'power', 'decibel' or 'vector'.`,
  'mixed-curves': ({
    a,
    b,
    differ,
    to,
  }: {
    a: string;
    b: string;
    differ: keyof typeof DIFFERS;
    to: 'average' | 'attach noise' | 'compare takes' | 'measure distortion';
  }) => {
    const advice = {
      average: 'Average only curves that are alike in it.',
      'attach noise': 'Treat a curve and its noise run alike before joining them.',
      'compare takes': 'Compare takes that are alike in it.',
      'measure distortion': 'Treat all curves of the unit alike, or give them one by one.',
    };
    return `‘${a}’ and ‘${b}’ differ in ${DIFFERS[differ]}. ${advice[to]}`;
  },
  'no-phase': ({ label }: { label: string }) =>
    `‘${label}’ has no phase, and a vector average needs it of every curve. Average by 'power' instead.`,
  'not-a-level': ({ label, role, to }: { label: string; role: keyof typeof ROLES; to: 'weight' | 'calibrate' }) =>
    `‘${label}’ is a ${ROLES[role]}, which has no level of its own; ${to} responses and noise.`,
  'already-weighted': ({ label, weighting }: { label: string; weighting: string }) =>
    `‘${label}’ is already ${weighting}-weighted; weight the curve as it was measured.`,
  'already-corrected': ({ label, correction }: { label: string; correction: string }) =>
    `‘${label}’ is already corrected with ‘${correction}’; correct the curve as it was measured.`,
  'weighted-curve': ({ label, weighting }: { label: string; weighting: string }) =>
    `‘${label}’ is ${weighting}-weighted, which takes tens of dB from the bass. Give the curve without the weighting, or allow weighted curves.`,
} satisfies Phrases;
