import type { Exposure } from '../../model/findings';
import { formatDuration } from '../format';
import { escapeHtml, plainSentence } from '../text';
import { formatDba, permittedWords } from '../verdict/exposureSentences';
import { ended } from '../verdict/sentence';

/** C-weighted levels this much above the A-weighted ones tell that much of the sound is low bass, dB. */
const BASS_HEAVY_DB = 15;

/** How loud it was at the ear and how long that is permitted; how to find out where it is not known. */
export function exposureNote(exposure: Exposure | undefined): string {
  if (!exposure) return '';
  const sentences = [
    ...(exposure.levelDba === null ? unknownLevel(exposure) : knownLevel(exposure)),
    'Low bass can harm at levels that A-weighting hides, so this time is no licence to stay: follow the rules of the place, which may be stricter.',
  ];
  const { permittedSeconds, measuredSeconds } = exposure;
  const over = permittedSeconds !== null && measuredSeconds !== null && measuredSeconds > permittedSeconds;
  const caveats = exposure.caveats.map((text) => `<li>${escapeHtml(plainSentence(text))}</li>`);
  return `<h3>Sound level at the ear</h3>
<p${over ? ' class="warning"' : ''}>${sentences.map(escapeHtml).join(' ')}</p>${caveats.length > 0 ? `\n<ul>${caveats.join('\n')}</ul>` : ''}
<h3>What can hurt</h3>
`;
}

function knownLevel({ levelDba, levelDbc, from, permittedSeconds, measuredSeconds }: Exposure): string[] {
  const c = levelDbc === null ? '' : `, ${formatDba(levelDbc, 'C')}`;
  const apart = levelDbc === null ? 0 : levelDbc - (levelDba as number);
  return [
    ended(`${formatDba(levelDba as number)}${c} (${plainSentence(from)})`),
    ...(apart >= BASS_HEAVY_DB ? ['C reads far more than A: most of this sound is low bass.'] : []),
    ...(permittedSeconds === null
      ? []
      : [`By NIOSH 98-126 (85 dBA for 8 h, halved for every 3 dB more), ${permittedWords(permittedSeconds)}.`]),
    ...(measuredSeconds === null ? [] : [`The measuring itself took ${formatDuration(measuredSeconds)}.`]),
  ];
}

function unknownLevel({ levelDbc, from, measuredSeconds }: Exposure): string[] {
  const c = levelDbc === null ? '' : ` (${formatDba(levelDbc, 'C')} was; ${plainSentence(from)})`;
  return [
    `The A-weighted level at the ear is not known${c}, and so is the time that would be permitted.`,
    'To know it, hold a sound level meter where the head will be during the loudest run, or calibrate the microphone with a calibrator tone and measure there.',
    ...(measuredSeconds === null ? [] : [`The measuring itself took ${formatDuration(measuredSeconds)}.`]),
  ];
}
