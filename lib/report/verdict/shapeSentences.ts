import { isDoubted } from '../../model/caveat';
import type { BandFit } from '../../model/findings';
import { formatHzRange, formatShort, NO_BREAK } from '../format';
import type { SettingView } from '../session';
import { nameRun } from './drive';
import { formatOctaves } from './rangeSentences';
import { about, type Sentence } from './sentence';

/** Less than this much of an octave is no change of the range. */
const SAME_OCTAVES = 0.1;

/** Whether the curve gets flatter or bends as it plays louder. */
export function shapeSentences(view: SettingView, figure?: string): Sentence[] {
  const trusted = view.fits.filter((fit) => !isDoubted(fit) && fit.about.driveDb !== undefined);
  const [quiet, loud] = [trusted[0], trusted[trusted.length - 1]];
  if (!quiet || quiet.about.driveDb === loud.about.driveDb) return [];
  const change = loud.octaves - quiet.octaves;
  const told = (fit: BandFit): string =>
    `${formatHzRange(fit.lowHz, fit.highHz)} (${formatOctaves(fit.octaves)}) in ${nameRun(view, fit.about.driveDb)}`;
  const verdict =
    change > SAME_OCTAVES
      ? 'the curve gets flatter as it plays louder'
      : change < -SAME_OCTAVES
        ? 'the curve bends as it plays louder'
        : 'the curve keeps its shape as it plays louder';
  return [
    {
      topic: 'Shape',
      figure,
      parts: about(
        view,
        { key: verdict },
        `: within ${formatShort(quiet.heightDb)}${NO_BREAK}dB it holds ${told(quiet)} and ${told(loud)}.`,
      ),
    },
  ];
}
