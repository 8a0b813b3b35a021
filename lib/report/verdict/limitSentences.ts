import type { Ladder } from '../../model/findings';
import { formatDb, formatHz, formatHzRange } from '../format';
import type { SettingView } from '../session';
import { formatDrive } from './drive';
import { about, type Part, type Sentence } from './sentence';

/** Whether a limiter guards the bottom or the unit runs out everywhere. */
export function limitSentences(view: SettingView, figure?: string): Sentence[] {
  const { ladder } = view;
  if (!ladder || ladder.rungs.length < 3) return [];
  const loudest = ladder.rungs[ladder.rungs.length - 1].driveDb - ladder.rungs[0].driveDb;
  if (ladder.regions.length === 0) {
    const parts = about(
      view,
      'it was not driven into its limits: up to ',
      { key: formatDrive(loudest) },
      ' no range stops growing.',
    );
    return [{ topic: 'Limits', figure, parts }];
  }
  const words = ladder.regions.map(
    ({ lowHz, highHz, onsetDriveDb, ceilingDb, kind }) =>
      `${formatHzRange(lowHz, highHz)} ${kind === 'limiter' ? 'is held sharply, as by a limiter,' : 'gives way gradually'} from ${formatDrive(Number(onsetDriveDb.toFixed(1)))}, near ${formatDb(ceilingDb)}`,
  );
  const parts: Part[] = [
    { key: words[0] },
    words.length > 1 ? `; ${words.slice(1).join('; ')}` : '',
    `. ${extentWords(ladder)}`,
  ];
  return [{ topic: 'Limits', figure, parts: about(view, ...parts) }];
}

/** Share of the trusted range that must be limited to speak of everywhere; above half of it, it is no longer the bottom. */
const EVERYWHERE = 0.75;
const BOTTOM = 0.5;

/** Says which part of the trusted range is limited: the bottom, nearly everything, or something between. */
export function limitedExtent(ladder: Ladder): {
  extent: 'everywhere' | 'bottom' | 'part';
  limited: number;
  of: number;
} {
  const loudest = ladder.trusted[ladder.trusted.length - 1] ?? [];
  const trusted = ladder.bandsHz.filter((_, band) => loudest[band]);
  const inRegion = (hz: number): boolean => ladder.regions.some(({ lowHz, highHz }) => hz >= lowHz && hz <= highHz);
  const limited = trusted.filter(inRegion);
  const counts = { limited: limited.length, of: trusted.length };
  if (trusted.length === 0) return { extent: 'part', ...counts };
  if (limited.length >= EVERYWHERE * trusted.length) return { extent: 'everywhere', ...counts };
  const fromBottom = limited.length > 0 && limited.every((hz, k) => hz === trusted[k]);
  return { extent: fromBottom && limited.length <= BOTTOM * trusted.length ? 'bottom' : 'part', ...counts };
}

function extentWords(ladder: Ladder): string {
  const { extent, limited, of } = limitedExtent(ladder);
  const share = `${limited} of ${of} trusted bands`;
  const top = formatHz(Math.max(...ladder.regions.map(({ highHz }) => highHz)));
  if (extent === 'everywhere') {
    const order = leadWords(ladder) ?? (isBottomFirst(ladder) ? 'at the bottom first' : 'not only at the bottom');
    return `That is ${share}: it runs out nearly everywhere, ${order}.`;
  }
  if (extent === 'bottom') {
    const sharp = ladder.regions.some(({ kind }) => kind === 'limiter');
    return `That is ${share}; above ${top} it follows the drive to the last: ${sharp ? 'a limiter guards the bottom' : 'only the bottom runs out'}.`;
  }
  const lead = leadWords(ladder);
  return `That is ${share}; the others follow the drive.${lead ? ` It runs out ${lead}.` : ''}`;
}

/** Less drive than this between two onsets is no lead, dB. */
const LEAD_DB = 1;

/** How much earlier than the other ranges a limiter at the bottom sets in; undefined where none does. */
function leadWords({ regions }: Ladder): string | undefined {
  const [bottom, ...others] = [...regions].sort((a, b) => a.lowHz - b.lowHz);
  if (bottom.kind !== 'limiter' || others.length === 0) return undefined;
  const next = others.reduce((a, b) => (b.onsetDriveDb < a.onsetDriveDb ? b : a));
  const leadDb = next.onsetDriveDb - bottom.onsetDriveDb;
  if (leadDb < LEAD_DB) return undefined;
  return `at the bottom first, where a limiter sets in ${formatDb(leadDb)} of drive before ${formatHzRange(next.lowHz, next.highHz)} gives way`;
}

/** Whether the lowest limited band gives way clearly earlier than most others. */
function isBottomFirst({ bandsHz, onset, regions }: Ladder): boolean {
  const [least] = [...onset].sort((a, b) => a.compressionDb - b.compressionDb);
  if (!least) return false;
  const isLimited = (hz: number) => regions.some(({ lowHz, highHz }) => hz >= lowHz && hz <= highHz);
  const [bottom, ...others] = least.driveDb.filter((drive, band) => drive !== null && isLimited(bandsHz[band]));
  if (bottom === undefined || others.length < 2) return false;
  const rising = (others as number[]).sort((a, b) => a - b);
  return rising[Math.floor(rising.length / 2)] - (bottom as number) >= LEAD_DB;
}
