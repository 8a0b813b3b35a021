import type { Ladder } from '../../model/findings';
import { nominalHz, thirdOctaveCentres } from '../../model/octaves';
import { isBadRung } from '../captures';
import { ceilingChart } from '../charts/ceilingChart';
import { compressionMap } from '../charts/compressionMap';
import { ladderChart } from '../charts/ladderChart';
import { levelRange } from '../charts/levelRange';
import { rangeChart } from '../charts/rangeChart';
import { driveText } from '../charts/rungAxis';
import { formatDb, formatHz, formatHzRange, formatList, formatShort, NO_BREAK } from '../format';
import type { TableCell } from '../html/dataTable';
import { namedOf } from '../session';
import { firstOnsets } from '../verdict/compressionSentences';
import { formatDrive } from '../verdict/drive';
import { countTrusted } from '../verdict/trustSentences';
import { badWords, type DrawnSession, type DrawnSetting, valueAt } from './drawnSession';
import type { Figure } from './figure';

/** Responses of all rungs above each other. */
export function ladderFigure(drawn: DrawnSession, { view, lines }: DrawnSetting, index: number): Figure | undefined {
  const shown = lines.filter((line) => line.points.length > 0);
  if (shown.length < 2) return undefined;
  const regions = view.ladder?.regions ?? [];
  const named = namedOf(view);
  const limits = regions.map(
    ({ lowHz, highHz, onsetDriveDb, ceilingDb }) =>
      `${formatHzRange(lowHz, highHz)} from ${formatDrive(onsetDriveDb)}, near ${formatDb(ceilingDb)}`,
  );
  const limited = limits.length > 0 ? ` Limited: ${formatList(limits)}.` : '';
  return {
    id: `fig-ladder-${index}`,
    kind: 'ladder',
    title: `Ladder of drive${named}`,
    caption: `All ${shown.length} runs${named}, the quietest lowest. Where lines crowd together, drive no longer turns into level${regions.length > 0 ? '; bars and tinted stretches mark where the last steps added less than half of what was commanded' : ''}.${badWords(shown)}`,
    text: `${shown.length} lines from ${shown[0].label} to ${shown[shown.length - 1].label} above the quietest run.${limited}${badWords(shown)}`,
    build: ladderChart({ ...drawn, lines: shown, regions, scale: drawn.session.scale }),
    table: {
      caption: `Levels in dB of all runs, read at third-octave frequencies${named}`,
      head: ['Frequency in Hz', ...shown.map((line) => line.label)],
      rows: thirdOctaveCentres(...drawn.rangeHz).map((hz) => [
        String(nominalHz(hz)),
        ...shown.map((line) => valueAt(line, hz)),
      ]),
    },
  };
}

/** Compression over frequency and drive. */
export function mapFigure(drawn: DrawnSession, { view }: DrawnSetting, index: number): Figure | undefined {
  const { ladder } = view;
  if (!ladder || ladder.rungs.length < 2 || ladder.bandsHz.length === 0) return undefined;
  const named = namedOf(view);
  const first = firstOnsets(ladder).map(
    ({ compressionDb, hz, driveDb }) =>
      `${formatShort(compressionDb)}${NO_BREAK}dB is lost first at ${formatHz(hz)}, from ${formatDrive(driveDb)}`,
  );
  const { trusted, total } = countTrusted(ladder);
  return {
    id: `fig-map-${index}`,
    kind: 'map',
    title: `Compression${named}`,
    caption: `What is lost of the drive${named}, in dB, for each third-octave band and each run. Hatched cells have no value that can be trusted.`,
    text: `${first.length > 0 ? `${formatList(first)}.` : 'No trusted band loses drive.'} ${trusted} of ${total} values can be trusted.`,
    build: compressionMap(ladder, drawn.rangeHz, {
      besidesHz: view.distortion?.bandsHz,
      bad: ladder.rungs.map(({ id, driveDb }) => isBadRung(view.bad, id, driveDb)),
    }),
    table: {
      caption: `Compression in dB by band and drive above the quietest run${named}; an asterisk marks untrusted values`,
      head: ['Band in Hz', ...ladder.rungs.map((rung) => `${driveText(rung.driveDb - ladder.rungs[0].driveDb)} dB`)],
      rows: ladder.bandsHz.map((hz, band) => [
        String(nominalHz(hz)),
        ...ladder.rungs.map((_, k) => marked(ladder.compressionDb[k][band], ladder.trusted[k][band])),
      ]),
    },
  };
}

/** The loudest level of each band, all settings in one. */
export function ceilingFigure(drawn: DrawnSession): Figure | undefined {
  const ladders = drawn.settings.flatMap(({ view }) => (view.ladder ? [{ name: view.name, ladder: view.ladder }] : []));
  const levels = ladders.flatMap(({ ladder }) => ladder.ceiling.levelDb.filter((level) => level !== null));
  if (levels.length === 0) return undefined;
  const bands = [...new Set(ladders.flatMap(({ ladder }) => ladder.bandsHz))].sort((a, b) => a - b);
  const told = ladders.map(({ name, ladder }) => `${name ? `${name}: ` : ''}${spoken(ladder)}`);
  return {
    id: 'fig-ceilings',
    kind: 'ceilings',
    title: 'Loudest level per band',
    caption:
      'Highest trusted level in each third-octave band. A disc: it would go no louder. An open triangle: at least this loud, no limit was met. The numbers stand below their bands.',
    text: told.join('. '),
    build: ceilingChart({
      rows: ladders.map(({ name, ladder }) => ({ name, bandsHz: ladder.bandsHz, ...ladder.ceiling })),
      words: { reached: 'limit reached', atLeast: 'at least: no limit met' },
      scale: drawn.session.scale,
      rangeHz: drawn.rangeHz,
      level: levelRange(levels),
    }),
    table: {
      caption: 'Highest trusted level in dB by band; ≥ means at least',
      head: ['Band in Hz', ...ladders.map(({ name }) => name || 'Level')],
      rows: bands.map((hz) => [
        String(nominalHz(hz)),
        ...ladders.map(({ ladder }) => ceilingText(ladder, ladder.bandsHz.indexOf(hz))),
      ]),
    },
  };
}

/** The range inside the window, rung by rung. */
export function rangeFigure(drawn: DrawnSession, { view }: DrawnSetting, index: number): Figure | undefined {
  const rungs = view.fits
    .filter((fit) => fit.about.driveDb !== undefined && fit.heightDb === view.fit?.heightDb)
    .map((fit) => ({ driveDb: (fit.about.driveDb as number) - view.lowestDriveDb, fit }));
  if (rungs.length < 2) return undefined;
  const [quiet, loud] = [rungs[0], rungs[rungs.length - 1]];
  const named = namedOf(view);
  const heightDb = quiet.fit.heightDb;
  return {
    id: `fig-range-${index}`,
    kind: 'range',
    title: `Range within ${formatShort(heightDb)}${NO_BREAK}dB as it plays louder${named}`,
    caption: `The widest range that stays within ${formatShort(heightDb)}${NO_BREAK}dB, run by run${named}. Bars that shrink upwards mean that the curve bends as it plays louder.`,
    text: `From ${formatHzRange(quiet.fit.lowHz, quiet.fit.highHz)} at ${formatDrive(quiet.driveDb)} to ${formatHzRange(loud.fit.lowHz, loud.fit.highHz)} at ${formatDrive(loud.driveDb)}.`,
    build: rangeChart({ rungs, heightDb, rangeHz: drawn.rangeHz }),
    table: {
      caption: `Range within ${formatShort(heightDb)}${NO_BREAK}dB by drive above the quietest run${named}`,
      head: ['Drive in dB', 'From, Hz', 'To, Hz', 'Octaves', 'Room left in: from, Hz', 'to, Hz', 'With care because'],
      decimals: [1, 1, 1, 2, 1, 1],
      rows: rungs.map(({ driveDb, fit }) => [
        driveText(driveDb),
        fit.lowHz,
        fit.highHz,
        fit.octaves,
        fit.withoutMasks.lowHz,
        fit.withoutMasks.highHz,
        fit.caveats.map(({ message }) => message).join(' ') || '–',
      ]),
    },
  };
}

function marked(value: number | null, trusted: boolean): TableCell {
  if (value === null || trusted) return value;
  return `${value.toFixed(1).replace('-', '−')}*`;
}

function ceilingText(ladder: Ladder, band: number): TableCell {
  const level = ladder.ceiling.levelDb[band] ?? null;
  if (level === null || ladder.ceiling.reached[band]) return level;
  return `≥ ${level.toFixed(1).replace('-', '−')}`;
}

function spoken(ladder: Ladder): string {
  return formatList(
    ladder.bandsHz.flatMap((hz, band) => {
      const level = ladder.ceiling.levelDb[band];
      if (level === null) return [];
      return [`${ladder.ceiling.reached[band] ? '' : 'at least '}${formatDb(level)} at ${formatHz(nominalHz(hz))}`];
    }),
  );
}
