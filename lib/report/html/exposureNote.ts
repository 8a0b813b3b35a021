import type { Exposure } from '../../model/findings';
import type { ReportWords } from '../../words/reportWords';
import { escapeHtml, plainName } from '../text';

/** C-weighted levels this much above the A-weighted ones tell that much of the sound is low bass, dB; a choice, no source. */
const BASS_HEAVY_DB = 15;

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
          ...(levelDbc !== null && levelDbc - levelDba >= BASS_HEAVY_DB ? [words.bassHeavy] : []),
          ...(permittedSeconds === null ? [] : [words.permitted(permittedSeconds)]),
        ];
  if (measuredSeconds !== null) sentences.push(words.measured(measuredSeconds));
  const caveats = exposure.caveats.map(({ message }) => `<li>${escapeHtml(plainName(message))}</li>`);
  return `<h3>${escapeHtml(words.title)}</h3>
<p${isTooLong(exposure) ? ' class="warning"' : ''}>${sentences.map(escapeHtml).join(' ')}</p>${caveats.length > 0 ? `\n<ul>${caveats.join('\n')}</ul>` : ''}
<h3>${escapeHtml(words.hurts)}</h3>
`;
}

/** Whether the measuring itself took longer than is permitted at that level. */
export function isTooLong({ permittedSeconds, measuredSeconds }: Exposure): boolean {
  return permittedSeconds !== null && measuredSeconds !== null && measuredSeconds > permittedSeconds;
}

interface Source {
  dba: 'stated' | 'sweep' | null;
  dbc: 'sweep' | null;
  run: string | null;
  runs: number;
}

function sourceOf({ from }: Exposure, words: ReportWords['page']['exposure']): string {
  const told: unknown = from;
  if (typeof told === 'string') return plainName(told).replace(/\.$/, '');
  const { dba, dbc, run, runs } = told as Source;
  const parts = [
    ...(dba === 'stated' ? [words.stated] : []),
    ...(dba === 'sweep' || dbc === 'sweep' ? [words.fromSweep(run === null ? null : plainName(run), runs)] : []),
  ];
  return parts.join('; ');
}
