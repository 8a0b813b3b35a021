import type { Exposure, Findings } from '../../model/findings';
import { exposureSource } from '../../words/exposureSource';
import { formatDuration, formatNumber, NO_BREAK } from '../format';
import { heldUnits, plainSentence } from '../text';
import type { Sentence } from './sentence';

/** How long ears may stay at that level; a warning where the measuring itself took longer. */
export function exposureSentences({ exposure, maximumOutput }: Findings, figure: string): Sentence[] {
  if (!exposure || exposure.levelDba === null || exposure.permittedSeconds === null) return [];
  const { levelDba, permittedSeconds, measuredSeconds } = exposure;
  const isSwept = exposure.caveats.some(({ code }) => code === 'exposure-sweeps-only');
  const bursts = isSwept && maximumOutput?.length ? ' The bursts are not counted in.' : '';
  const over = measuredSeconds !== null && measuredSeconds > permittedSeconds;
  return [
    {
      topic: 'Ears',
      figure,
      warning: over,
      parts: [
        'The level at the ear is taken as ',
        { key: formatDba(levelDba) },
        ` (${sourceOf(exposure.from)}); ${permittedWords(permittedSeconds)} by NIOSH 98-126.${bursts}${over ? ` The measuring took longer: ${formatDuration(measuredSeconds)}.` : ''} Low bass can harm at levels that A-weighting hides.`,
      ],
    },
  ];
}

/** '94.0 dBA'. */
export function formatDba(level: number, letter: 'A' | 'C' = 'A'): string {
  return `${formatNumber(level, 1)}${NO_BREAK}dB${letter}`;
}

/** '1 h a day is permitted'. */
export function permittedWords(seconds: number): string {
  if (seconds <= 0) return 'no stay at all is permitted';
  return seconds > 86_400 ? 'a whole day is permitted' : `${formatDuration(seconds)} a day is permitted`;
}

/** Where a level comes from, fit to stand in brackets. */
export function sourceOf(from: Exposure['from']): string {
  return heldUnits(plainSentence(exposureSource(from))).replace(/[.!?]$/, '');
}
