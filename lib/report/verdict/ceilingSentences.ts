import { nominalHz } from '../../model/octaves';
import { formatDb, formatHz, formatList } from '../format';
import type { SettingView } from '../session';
import { about, type Sentence } from './sentence';

/** The bands that loudness is quoted at, Hz. */
export const QUOTED_HZ = [20, 25, 31.5, 40, 50, 63];

/** How loud it goes at the quoted frequencies. */
export function ceilingSentences(view: SettingView, figure?: string): Sentence[] {
  const { ladder } = view;
  if (!ladder) return [];
  const words = QUOTED_HZ.flatMap((hz) => {
    const band = ladder.bandsHz.findIndex((centre) => nominalHz(centre) === hz);
    const level = band < 0 ? null : ladder.ceiling.levelDb[band];
    if (level === null) return [];
    return [`${ladder.ceiling.reached[band] ? '' : 'at least '}${formatDb(level)} at ${formatHz(hz)}`];
  });
  if (words.length === 0) return [];
  const rest = words.length > 1 ? `${words.length > 2 ? ', ' : ' and '}${formatList(words.slice(1))}` : '';
  return [{ topic: 'Loudest', figure, parts: about(view, 'it reached ', { key: words[0] }, `${rest}.`) }];
}
