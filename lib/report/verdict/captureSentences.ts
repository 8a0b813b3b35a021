import { BAD_MARK, type CaptureView } from '../captures';
import { formatCount, formatList } from '../format';
import type { Session } from '../session';
import { plainSentence } from '../text';
import { ended, type Sentence } from './sentence';

/** More captures than these are counted, not named. */
const MOST_NAMED = 4;

/** A warning where captures are bad: it belongs before everything that rests on them. */
export function badCaptureSentences({ captures }: Session, figure: string): Sentence[] {
  const bad = captures.filter(({ verdict }) => verdict === 'bad');
  if (bad.length === 0) return [];
  const why =
    bad[0].warnings.length > 0 ? ` ${nameOf(bad[0])}: ${ended(plainSentence(bad[0].warnings[0].message))}` : '';
  return [
    {
      topic: 'Warning',
      figure,
      warning: true,
      parts: [
        { key: `${formatCount(bad.length, 'capture')} ${bad.length === 1 ? 'is' : 'are'} bad` },
        ` and must not be used (${names(bad)}); what rests on ${bad.length === 1 ? 'it' : 'them'} is marked ${BAD_MARK}.${why}`,
      ],
    },
  ];
}

/** How many captures are good, and which are to be taken with care. */
export function captureSentences({ captures }: Session, figure: string): Sentence[] {
  const judged = captures.filter(({ quality }) => quality);
  const doubtful = captures.filter(({ verdict }) => verdict === 'doubtful');
  if (judged.length === 0 && doubtful.length === 0) return [];
  const good = judged.filter(({ verdict }) => verdict === 'good').length;
  const care =
    doubtful.length > 0
      ? `${judged.length > 0 ? '; ' : ''}${formatCount(doubtful.length, 'capture')} ${doubtful.length === 1 ? 'is' : 'are'} doubtful (${names(doubtful)})`
      : '';
  const counted = judged.length > 0 ? `${good} of ${formatCount(judged.length, 'capture')}` : '';
  return [
    {
      topic: 'Captures',
      figure,
      warning: good < judged.length / 2,
      parts: counted ? [{ key: counted }, ` ${good === 1 ? 'is' : 'are'} good${care}.`] : [{ key: `${care}.` }],
    },
  ];
}

function nameOf({ label }: CaptureView): string {
  return `‘${label}’`;
}

function names(captures: CaptureView[]): string {
  const shown = captures.slice(0, MOST_NAMED).map(nameOf);
  const others = captures.length - shown.length;
  return formatList([...shown, ...(others > 0 ? [`${others} more`] : [])]);
}
