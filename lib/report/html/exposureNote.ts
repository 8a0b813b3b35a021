import type { Exposure } from '../../model/findings';
import { formatDuration } from '../format';
import { escapeHtml, heldUnits, plainSentence } from '../text';
import { formatDba, permittedWords, sourceOf } from '../verdict/exposureSentences';
import { ended } from '../verdict/sentence';

/** C-weighted levels this much above the A-weighted ones tell that much of the sound is low bass, dB. */
const BASS_HEAVY_DB = 15;

const BASS = 'Low bass can harm at levels that A-weighting hides, so a permitted time is no licence to stay.';
const RULES = 'Follow the rules of the place where they are stricter.';
const HOW_TO_KNOW =
  'To know it, hold a sound level meter where the head will be during the loudest run, or calibrate the microphone and measure there.';

/** How loud it was at the ear and how long that is permitted; how to find out where it is not known. */
export function exposureNote(exposure: Exposure | undefined): string {
  if (!exposure) return '';
  const { permittedSeconds, measuredSeconds } = exposure;
  const told = new Set(exposure.caveats.map(({ code }) => code));
  const sentences = [
    ...(exposure.levelDba === null ? unknownLevel(exposure, told) : knownLevel(exposure)),
    ...(measuredSeconds === null ? [] : [`The measuring itself took ${formatDuration(measuredSeconds)}.`]),
    // What the finding's own caveats say is not said twice.
    ...(told.has('exposure-low-bass') ? [] : [BASS]),
    ...(told.has('exposure-rules') ? [] : [RULES]),
  ];
  const over = permittedSeconds !== null && measuredSeconds !== null && measuredSeconds > permittedSeconds;
  const caveats = exposure.caveats.map(({ message: text }) => `<li>${escapeHtml(heldUnits(plainSentence(text)))}</li>`);
  return `<h3>Sound level at the ear</h3>
<p${over ? ' class="warning"' : ''}>${sentences.map(escapeHtml).join(' ')}</p>${caveats.length > 0 ? `\n<ul>${caveats.join('\n')}</ul>` : ''}
<h3>What can hurt</h3>
`;
}

function knownLevel({ levelDba, levelDbc, loudestDba, loudestDbc, from, permittedSeconds }: Exposure): string[] {
  const apart = levelDbc === null ? 0 : levelDbc - (levelDba as number);
  const loudest = [
    ...(loudestDba === undefined ? [] : [formatDba(loudestDba)]),
    ...(loudestDbc === undefined ? [] : [formatDba(loudestDbc, 'C')]),
  ];
  return [
    ended(
      `${formatDba(levelDba as number)}${levelDbc === null ? '' : `, ${formatDba(levelDbc, 'C')}`} (${sourceOf(from)})`,
    ),
    ...(loudest.length > 0 ? [`At the loudest moment of the sweep it was ${loudest.join(' and ')}.`] : []),
    ...(apart >= BASS_HEAVY_DB ? ['C reads far more than A: most of this sound is low bass.'] : []),
    ...(permittedSeconds === null
      ? []
      : [`By NIOSH 98-126 (85 dBA for 8 h, halved for every 3 dB more), ${permittedWords(permittedSeconds)}.`]),
  ].map(heldUnits);
}

function unknownLevel({ levelDbc, from }: Exposure, told: Set<string>): string[] {
  const c = levelDbc === null ? '' : ` (${formatDba(levelDbc, 'C')} is; ${sourceOf(from)})`;
  return [
    `The A-weighted level at the ear is not known${c}, nor is the time that would be permitted.`,
    ...(told.has('exposure-unknown') || told.has('exposure-not-calibrated') ? [] : [HOW_TO_KNOW]),
  ];
}
