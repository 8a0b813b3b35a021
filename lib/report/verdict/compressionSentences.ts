import type { Ladder } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import { formatDb, formatHz, formatShort, NO_BREAK } from '../format';
import type { SettingView } from '../session';
import { formatDrive } from './drive';
import { about, type Part, type Sentence } from './sentence';

/** Where each amount of compression is reached first: band, drive above the quietest run, level there. */
export function firstOnsets(
  ladder: Ladder,
): { compressionDb: number; hz: number; driveDb: number; outputDb: number | null }[] {
  return ladder.onset.flatMap(({ compressionDb, driveDb, outputDb }) => {
    let first = -1;
    driveDb.forEach((drive, band) => {
      if (drive !== null && (first < 0 || drive < (driveDb[first] as number))) first = band;
    });
    if (first < 0) return [];
    return [
      {
        compressionDb,
        hz: nominalHz(ladder.bandsHz[first]),
        driveDb: driveDb[first] as number,
        outputDb: outputDb[first],
      },
    ];
  });
}

/** Where compression starts first, and where last. */
export function compressionSentences(view: SettingView, figure?: string): Sentence[] {
  const { ladder } = view;
  if (!ladder || ladder.rungs.length < 2) return [];
  const first = firstOnsets(ladder);
  const loudest = ladder.rungs[ladder.rungs.length - 1].driveDb - ladder.rungs[0].driveDb;
  if (first.length === 0) {
    const least = Math.min(...ladder.onset.map((onset) => onset.compressionDb));
    if (!Number.isFinite(least)) return [];
    const parts = about(
      view,
      'no trusted band loses ',
      { key: `${formatShort(least)}${NO_BREAK}dB` },
      ` of its drive up to the loudest run (${formatDrive(loudest)}).`,
    );
    return [{ topic: 'Compression', figure, parts }];
  }
  const words = first.map(
    ({ compressionDb, hz, driveDb, outputDb }, k) =>
      `${formatShort(compressionDb)}${NO_BREAK}dB${k === 0 ? ' of drive is lost first' : ''} in the ${formatHz(hz)} band, ${formatDb(driveDb)} above the quietest run${outputDb === null ? '' : ` (at ${formatDb(outputDb)})`}`,
  );
  const parts: Part[] = [{ key: words[0] }, ...words.slice(1).map((word) => `; ${word}`), `.${lastWords(ladder)}`];
  return [{ topic: 'Compression', figure, parts: about(view, ...parts) }];
}

/** Where the smallest amount of compression is reached last, and how many bands never reach it. */
function lastWords(ladder: Ladder): string {
  const [onset] = [...ladder.onset].sort((a, b) => a.compressionDb - b.compressionDb);
  const reached = onset.driveDb.flatMap((drive, band) => (drive === null ? [] : [{ drive, band }]));
  if (reached.length < 2) return '';
  const last = reached.reduce((a, b) => (b.drive >= a.drive ? b : a));
  const never = onset.driveDb.filter((drive, band) => drive === null && ladder.ceiling.levelDb[band] !== null).length;
  const rest = never > 0 ? `; ${never} of ${onset.driveDb.length} bands never lose as much` : '';
  return ` Of the bands that lose ${formatShort(onset.compressionDb)}${NO_BREAK}dB at all, ${formatHz(nominalHz(ladder.bandsHz[last.band]))} is the last, at ${formatDb(last.drive)}${rest}.`;
}
