import type { CaveatValue } from '../../../model/caveat';
import type { Format } from '../../format';
import { type Listed, numbered } from '../../numbered';
import type { Phrases, Place } from '../../phrase';
import { given } from './given';
import { tooFewRows } from './texts';

type Of = 'ladder' | 'distortion';
/** Two curves and what each has. */
export interface Two {
  a: string;
  b: string;
  ofA: string | null;
  ofB: string | null;
}
const SCALES = { spl: 'dB SPL', relative: 'relative dB' };

function mixed(what: string) {
  return ({ of, a, b, ofA, ofB }: Two & { of: Of }): string => {
    const [first, second] = [`‘${a}’ (${ofA ?? `no ${what}`})`, `‘${b}’ (${ofB ?? `no ${what}`})`];
    return `${of === 'ladder' ? 'A ladder' : 'Distortion'} is of one ${what}, but ${first} and ${second} differ. Give them one by one.`;
  };
}

function oneOf(wanted: string) {
  return ({ value }: { value: CaveatValue }, { field }: Place, say: Format): string =>
    `A value of ${field} is ${given(value, say)}; give ${wanted} above 0.`;
}

/** Band fit, roll-off, ladder, distortion, comparison of settings. */
export const analyses = {
  'bad-height': ({ label, height }: { label: string; height: CaveatValue }, { field }, say) =>
    `${label}: ${field} is ${given(height, say, 'dB')}; give the height of the window in dB above 0, such as 5.`,
  'bad-reference': ({ label, reference }: { label: string; reference: CaveatValue }, _where, say) =>
    `${label}: the reference is ${given(reference, say)}; give 'band' or 'maximum'.`,
  'too-few-points': (
    values:
      | { label: string; points: number; fewest: number; lowHz: number; highHz: number }
      | ({ label: string; points: number } & Listed),
    where,
    say,
  ) =>
    typeof values.fewest !== 'number' || typeof values.lowHz !== 'number' || typeof values.highHz !== 'number'
      ? tooFewRows(values, where, say)
      : `${values.label}: ${say.count(values.points, 'point')} in ${say.hzRange(values.lowHz, values.highHz)} cannot show a roll-off; the fewest are ${values.fewest}. Widen the range, or measure on a finer grid.`,
  'no-roll-off': (
    { label, lowHz, highHz, cornerHz }: { label: string; lowHz: number; highHz: number; cornerHz: number },
    _where,
    say,
  ) =>
    `${label}: no roll-off can be seen in ${say.hzRange(lowHz, highHz)}; its corner would be at ${say.hz(Number(cornerHz.toPrecision(2)))}. Give a range that reaches lower.`,
  'missing-drive': ({ label }: { label: string }, { field }) =>
    `‘${label}’ has no drive level; set ${field} (dB; only differences matter).`,
  'too-few-rungs': ({ rungs }: { rungs: number }) =>
    `A ladder needs runs at two drive levels at least; found ${rungs}. Give more runs, or check their driveDb.`,
  'too-many-rungs': ({ rungs, most }: { rungs: number; most: number }) =>
    `These runs have ${rungs} different drives; a ladder holds up to ${most}. Give fewer runs, or name runs at one drive alike.`,
  'mixed-devices': mixed('device'),
  'mixed-settings': mixed('setting'),
  'mixed-scales': ({ a, b, ofA, ofB }: { [K in 'a' | 'b']: string } & { [K in 'ofA' | 'ofB']: keyof typeof SCALES }) =>
    `‘${a}’ is on the scale of ${SCALES[ofA]}, ‘${b}’ on that of ${SCALES[ofB]}; bring them to one scale.`,
  'mixed-weightings': ({ a, b, ofA, ofB }: { a: string; b: string; ofA: string; ofB: string }) =>
    `‘${a}’ is ${ofA}-weighted, ‘${b}’ is ${ofB}-weighted; compare curves as they were measured.`,
  'weighted-curves': ({ label, weighting }: { label: string; weighting: string }) =>
    `‘${label}’ is ${weighting}-weighted; measure distortion from curves as they were measured.`,
  'no-harmonics': ({ why }: { why: 'no pair' | 'none in common' }) =>
    why === 'no pair'
      ? 'Distortion needs a response and its harmonics, as a captured sweep gives them; there is no such pair.'
      : 'THD needs a harmonic of order 2 to 5 that all runs have; there is none.',
  'no-whole-band': ({ of, ...ranges }: { of: Of } & Listed, _where, say) => {
    const highs = numbered<number>(ranges, 'highHz');
    const all = numbered<number>(ranges, 'lowHz').map((low, i) =>
      low < highs[i] ? say.hzRange(low, highs[i]) : 'no range at all',
    );
    const whose = of === 'ladder' ? 'that the runs have in common' : 'of a response and its harmonics';
    return `No third-octave band lies wholly in the range ${whose} (${say.list(all)}). Measure all runs over a wider range.`;
  },
  'bad-percent': oneOf('THD in per cent'),
  'bad-onset': oneOf('compressions in dB'),
  'bad-frequency': oneOf('frequencies in Hz'),
} satisfies Phrases;
