import type { BandFit } from '../../model/findings';
import { formatDb, formatHz, formatHzRange, formatList, formatNumber, formatShort, NO_BREAK } from '../format';
import type { SettingView } from '../session';
import { plainName } from '../text';
import { nameRun } from './drive';
import { about, cautionOf, type Part, type Sentence } from './sentence';

/** How wide a range stays inside the window, with and without the room's dips. */
export function rangeSentences(view: SettingView, figure?: string): Sentence[] {
  const { fit } = view;
  if (!fit) return [];
  const runner = fit.runnerUp
    ? ` Nearly as wide is ${formatHzRange(fit.runnerUp.lowHz, fit.runnerUp.highHz)} (${formatOctaves(fit.runnerUp.octaves)}).`
    : '';
  const needed =
    fit.neededHeightDb !== undefined && fit.rangeHz
      ? ` To hold ${formatHzRange(...fit.rangeHz)} the window would have to be ${formatDb(fit.neededHeightDb)} tall.`
      : '';
  return [
    {
      topic: 'Range',
      figure,
      parts: about(
        view,
        `${nameRun(view, fit.about.driveDb)} stays within ${formatShort(fit.heightDb)}${NO_BREAK}dB over `,
        { key: formatHzRange(fit.lowHz, fit.highHz) },
        ` (${formatOctaves(fit.octaves)})${maskWords(fit)}.${runner}${needed}${cautionOf(fit)}`,
      ),
    },
  ];
}

function maskWords({ masksHz, withoutMasks, lowHz, highHz }: BandFit): string {
  if (masksHz.length === 0) return '';
  const one = masksHz.length === 1;
  const stretches = one ? 'one stretch that belongs' : `${masksHz.length} stretches that belong`;
  const bare = formatHzRange(withoutMasks.lowHz, withoutMasks.highHz);
  if (bare === formatHzRange(lowHz, highHz)) {
    return `; the ${stretches} to the room ${one ? 'makes' : 'make'} no difference to that`;
  }
  return ` when the ${stretches} to the room ${one ? 'is' : 'are'} left out, and over ${bare} (${formatOctaves(withoutMasks.octaves)}) with ${one ? 'it' : 'them'} counted`;
}

/** How deep it reaches: where it has fallen by 3, 6 and 10 dB. */
export function depthSentences(view: SettingView, figure?: string): Sentence[] {
  const { fit } = view;
  if (!fit || fit.points.length === 0) return [];
  const reached = fit.points.filter((point) => point.lowHz !== null);
  const missing = fit.points
    .filter((point) => point.lowHz === null)
    .map((point) => `${formatShort(point.downDb)}${NO_BREAK}dB`);
  const from = ` below its reference level of ${formatDb(fit.referenceDb)}`;
  if (reached.length === 0) {
    return [
      {
        topic: 'Depth',
        figure,
        parts: about(
          view,
          `the low end of the curve lies less than ${missing[0]}${from}: how deep it reaches was not measured.`,
        ),
      },
    ];
  }
  const words = reached.map(
    ({ downDb, lowHz }) => `${formatShort(downDb)}${NO_BREAK}dB down at ${formatHz(lowHz as number)}`,
  );
  const rest = missing.length > 0 ? `; it does not fall by ${formatList(missing)} inside the measured range` : '';
  const parts: Part[] = ['it is ', { key: words[0] }];
  if (words.length > 1) parts.push(words.length > 2 ? `, ${formatList(words.slice(1))}` : ` and ${words[1]}`);
  return [
    {
      topic: 'Depth',
      figure,
      parts: about(view, ...parts, `, counted from its reference level of ${formatDb(fit.referenceDb)}${rest}.`),
    },
  ];
}

/** How it rolls off below its range. */
export function rollOffSentences(view: SettingView, figure?: string): Sentence[] {
  const { rollOff } = view;
  if (!rollOff) return [];
  const q = rollOff.q === null ? '' : ` and Q ${formatNumber(rollOff.q, 2)}`;
  return [
    {
      topic: 'Roll-off',
      figure,
      parts: about(
        view,
        'it falls by ',
        { key: `${formatShort(rollOff.slopeDbPerOctave)}${NO_BREAK}dB per octave` },
        rollOff.f0Hz === null || rollOff.alignment === null
          ? ` from ${formatHz(rollOff.rangeHz[1])} down to ${formatHz(rollOff.rangeHz[0])}.${cautionOf(rollOff)}`
          : ` at the bottom, like ${article(rollOff.order)} ${ordinal(rollOff.order)}-order high-pass with f0 ${formatHz(rollOff.f0Hz)}${q} (${plainName(rollOff.alignment)}); the curve keeps to that within ${formatDb(rollOff.rmsErrorDb)} rms.${cautionOf(rollOff)}`,
      ),
    },
  ];
}

/** '2.5 octaves'. */
export function formatOctaves(octaves: number): string {
  return `${formatNumber(octaves, 2)} octaves`;
}

/** '4th'. */
export function ordinal(order: number): string {
  const teens = order % 100 > 10 && order % 100 < 14;
  return `${order}${teens ? 'th' : (['th', 'st', 'nd', 'rd'][order % 10] ?? 'th')}`;
}

function article(order: number): string {
  return order === 8 || order === 11 || order === 18 ? 'an' : 'a';
}
