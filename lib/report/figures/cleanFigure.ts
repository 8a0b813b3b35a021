import { nominalHz } from '../../model/octaves';
import { ceilingChart } from '../charts/ceilingChart';
import { bandEdges } from '../charts/heatMap';
import { levelRange } from '../charts/levelRange';
import { driveText } from '../charts/rungAxis';
import { formatDb, formatHz, formatList, formatNumber, formatShort, NO_BREAK } from '../format';
import type { TableCell } from '../html/dataTable';
import { namedOf } from '../session';
import { passedFromStart } from '../verdict/distortionFacts';
import { IN_THIS_ROOM } from './distortionFigure';
import type { DrawnSession, DrawnSetting } from './drawnSession';
import type { Figure } from './figure';

const SIGN_WORDS = { '': '', '≥': 'at least ', '≤': 'at most ' };

/** The level up to which each band stays below the percentages asked for. */
export function cleanFigure(drawn: DrawnSession, { view }: DrawnSetting, index: number): Figure | undefined {
  const { distortion } = view;
  const levels = distortion?.passes.flatMap(({ levelDb }) => levelDb.filter((level) => level !== null)) ?? [];
  if (!distortion || levels.length === 0) return undefined;
  const names = distortion.passes.map(({ percent }) => `${formatShort(percent)}${NO_BREAK}%`);
  const rows = distortion.passes.map((pass, k) => ({
    name: names[k],
    bandsHz: distortion.bandsHz,
    levelDb: pass.levelDb,
    reached: pass.reached,
    atMost: distortion.bandsHz.map((_, band) => passedFromStart(distortion, pass, band)),
  }));
  const sign = (row: (typeof rows)[number], band: number): '' | '≥' | '≤' =>
    row.reached[band] ? (row.atMost[band] ? '≤' : '') : '≥';
  const told = rows.map((row) => {
    const { name } = row;
    const words = row.levelDb.flatMap((level, band) =>
      level === null
        ? []
        : [`${SIGN_WORDS[sign(row, band)]}${formatDb(level)} at ${formatHz(nominalHz(distortion.bandsHz[band]))}`],
    );
    return `${name}: ${words.length > 0 ? formatList(words) : 'not known'}`;
  });
  return {
    id: `fig-clean-${index}`,
    kind: 'clean',
    title: `Level at which THD passes ${formatList(names)}${namedOf(view)}`,
    caption: `Level of the fundamental at which THD first passes ${formatList(names)} in each third-octave band${namedOf(view)}, ${IN_THIS_ROOM}. A disc: passed there. An open triangle: cleaner up to at least that level.${rows.some(({ atMost }) => atMost.some(Boolean)) ? ' One upside down: passed already in the quietest run that tells.' : ''} The numbers stand below their bands.`,
    text: `${told.join('. ')}.`,
    build: ceilingChart({
      rows,
      words: { reached: 'passed there', atLeast: 'at least: not passed', atMost: 'at most: passed from the start' },
      scale: distortion.scale,
      rangeHz: bandEdges([...distortion.bandsHz, ...(view.ladder?.bandsHz ?? [])], drawn.rangeHz),
      level: levelRange(levels),
    }),
    table: {
      caption: `Level in dB at which THD passes a percentage, by band${namedOf(view)}; ≥ means cleaner up to at least, ≤ passed already in the quietest run that tells; drives count from the quietest run`,
      head: ['Band in Hz', ...names.flatMap((name) => [`${name}: level`, `${name}: drive`])],
      rows: distortion.bandsHz.map((hz, band) => [
        String(nominalHz(hz)),
        ...rows.flatMap((row, k): TableCell[] => {
          const [level, drive] = [row.levelDb[band], distortion.passes[k].driveDb[band]];
          const mark = sign(row, band);
          return [
            level === null || mark === '' ? level : `${mark} ${formatNumber(level, 1)}`,
            drive === null ? null : driveText(Number(drive.toFixed(1))),
          ];
        }),
      ]),
    },
  };
}
