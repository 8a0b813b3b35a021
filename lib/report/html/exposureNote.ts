import { isBassHeavy, isTooLong } from '../../analysis/conclusions/atTheEar';
import type { Exposure } from '../../model/findings';
import type { ReportWords } from '../../words/reportWords';
import { escapeHtml, plainName } from '../text';

/** How loud it was at the ear and how long that is permitted; what is missing to know it is among its caveats. */
export function exposureNote(exposure: Exposure | undefined, { page }: ReportWords): string {
  if (!exposure) return '';
  const { exposure: words } = page;
  const { levelDba, levelDbc, loudestDba, loudestDbc, permittedSeconds, measuredSeconds } = exposure;
  const from = sourceOf(exposure, words);
  const isLoudestKnown = loudestDba !== undefined || loudestDbc !== undefined;
  const sentences =
    levelDba === null
      ? [words.unknown(levelDbc, from)]
      : [
          words.known(levelDba, levelDbc, from),
          ...(isLoudestKnown ? [words.loudest(loudestDba, loudestDbc)] : []),
          ...(isBassHeavy(exposure) ? [words.bassHeavy] : []),
          ...(permittedSeconds === null ? [] : [words.permitted(permittedSeconds)]),
        ];
  if (measuredSeconds !== null) sentences.push(words.measured(measuredSeconds));
  const caveats = exposure.caveats.map(({ message }) => `<li>${escapeHtml(plainName(message))}</li>`);
  return `<h3>${escapeHtml(words.title)}</h3>
<p${isTooLong(exposure) ? ' class="warning"' : ''}>${sentences.map(escapeHtml).join(' ')}</p>${caveats.length > 0 ? `\n<ul>${caveats.join('\n')}</ul>` : ''}
<h3>${escapeHtml(words.hurts)}</h3>
`;
}

function sourceOf({ from: { dba, dbc, run, runs } }: Exposure, words: ReportWords['page']['exposure']): string {
  const parts = [
    ...(dba === 'stated' ? [words.stated] : []),
    ...(dba === 'sweep' || dbc === 'sweep' ? [words.fromSweep(run === null ? null : plainName(run), runs)] : []),
  ];
  return parts.join('; ');
}
