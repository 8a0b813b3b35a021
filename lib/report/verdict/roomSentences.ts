import type { RoomFeature } from '../../model/findings';
import { formatHertz, formatList, formatNumber, NO_BREAK } from '../format';
import type { Sentence } from './sentence';

/** Below this a cause is only a guess. */
const LIKELY = 0.5;

/** Which dips and peaks must not be blamed on the unit, and which nothing explains. */
export function roomSentences(features: RoomFeature[], figure?: string): Sentence[] {
  const explained = features.filter((feature) => feature.cause.type !== 'unexplained');
  const sure = explained.filter((feature) => feature.confidence >= LIKELY);
  const maybe = explained.filter((feature) => feature.confidence < LIKELY);
  const open = features.filter((feature) => feature.cause.type === 'unexplained');
  const sentences: Sentence[] = [];
  if (sure.length > 0) {
    const close = sure
      .filter(({ cause }) => cause.mismatchHz !== undefined)
      .map(({ cause }) => Math.abs(cause.mismatchHz as number));
    const miss =
      close.length > 0
        ? `; the prediction misses ${close.length === 1 ? 'by' : 'them by at most'} ${formatNumber(Math.max(...close), 1)}${NO_BREAK}Hz`
        : '';
    sentences.push({
      topic: 'Room',
      figure,
      parts: [{ key: list(sure) }, ` ${sure.length === 1 ? 'belongs' : 'belong'} to the room, not to the unit${miss}.`],
    });
  }
  if (maybe.length > 0) {
    sentences.push({
      topic: 'Room',
      figure,
      parts: [{ key: list(maybe) }, ' may belong to the room; the match is weak.'],
    });
  }
  if (open.length > 0) {
    sentences.push({
      topic: 'Room',
      figure,
      parts: [
        { key: list(open) },
        ` ${open.length === 1 ? 'is' : 'are'} unexplained: room or unit, these measurements cannot tell.`,
      ],
    });
  }
  return sentences;
}

/** 'Dips at 34.1, 52.3 and 71 Hz and a peak at 44 Hz'. */
function list(features: RoomFeature[]): string {
  const named = (['dip', 'peak'] as const).flatMap((kind) => {
    const found = features
      .filter((feature) => feature.kind === kind)
      .map((feature) => formatHertz(feature.frequencyHz));
    if (found.length === 0) return [];
    return [`${found.length === 1 ? `a ${kind}` : `${kind}s`} at ${formatList(found)}${NO_BREAK}Hz`];
  });
  const text = named.join(' and ');
  return text.charAt(0).toUpperCase() + text.slice(1);
}
