import type { SettingDifference } from '../../model/findings';
import { formatDb, formatDbChange, formatHz, formatNumber, NO_BREAK } from '../format';
import { plainName } from '../text';
import { cautionOf, type Part, type Sentence } from './sentence';

/** What a switch does: how much, from where down, how steeply. */
export function switchSentences(difference: SettingDifference, figure?: string): Sentence[] {
  const [a, b] = [difference.a, difference.b].map(plainName);
  const shown = [20, 10].flatMap((hz) => difference.at.filter((one) => Math.round(one.frequencyHz) === hz));
  const values = shown.length > 0 ? shown : difference.at.slice(0, 2);
  const words = values.map(
    ({ frequencyHz, differenceDb, trusted }) =>
      `${louder(differenceDb)} at ${formatHz(frequencyHz)}${trusted ? '' : ' (untrusted)'}`,
  );
  const compared = `‘${a}’ against ‘${b}’`;
  const parts: Part[] =
    words.length === 0
      ? [`${compared}: `]
      : [`${compared} is `, { key: words[0] }, words.length > 1 ? ` and ${words.slice(1).join(' and ')}; ` : '; '];
  return [{ topic: 'Switch', figure, parts: [...parts, `${hingeWords(difference)}.${cautionOf(difference)}`] }];
}

function louder(db: number): string {
  if (Math.abs(db) < 0.05) return 'as loud';
  return `${formatDb(Math.abs(db))} ${db < 0 ? 'quieter' : 'louder'}`;
}

function hingeWords({ hingeHz, slopeDbPerOctave, asymptoteDb }: SettingDifference): string {
  if (hingeHz === null) return 'no frequency stands out from which down it works';
  const full = asymptoteDb === null ? 'the difference at the bottom' : `the full ${formatDbChange(asymptoteDb)}`;
  const slope =
    slopeDbPerOctave === null
      ? ''
      : `, with a slope of ${formatNumber(Math.abs(slopeDbPerOctave), 1)}${NO_BREAK}dB per octave below it`;
  return `half of ${full} is reached at its hinge, ${formatHz(hingeHz)}${slope}`;
}
