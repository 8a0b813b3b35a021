import type { BandFit, Ladder } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import { formatDb, formatHz, formatHzRange, formatList, formatShort, NO_BREAK } from '../format';
import type { SettingView } from '../session';
import { formatDrive, nameRun } from './drive';
import { formatOctaves } from './rangeSentences';
import { about, type Part, type Sentence } from './sentence';

/** The bands that loudness is quoted at, Hz. */
export const QUOTED_HZ = [20, 25, 31.5, 40, 50, 63];

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
  if (extent === 'everywhere') return `That is ${share}: it runs out nearly everywhere, not only at the bottom.`;
  if (extent === 'bottom') {
    const sharp = ladder.regions.some(({ kind }) => kind === 'limiter');
    return `That is ${share}; above ${top} it follows the drive to the last: ${sharp ? 'a limiter guards the bottom' : 'only the bottom runs out'}.`;
  }
  return `That is ${share}; the others follow the drive.`;
}

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

/** Less than this much of an octave is no change of the range. */
const SAME_OCTAVES = 0.1;

/** Whether the curve gets flatter or bends as it plays louder. */
export function shapeSentences(view: SettingView, figure?: string): Sentence[] {
  const trusted = view.fits.filter((fit) => fit.caveats.length === 0 && fit.about.driveDb !== undefined);
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
