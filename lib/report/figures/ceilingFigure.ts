import type { Ladder } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import { ceilingChart } from '../charts/ceilingChart';
import { levelRange } from '../charts/levelRange';
import type { DrawnSession } from './drawnSession';
import type { Figure } from './figure';

/** The loudest level of each band, all settings in one. */
export function ceilingFigure(drawn: DrawnSession): Figure | undefined {
  const { say, figure } = drawn.session.words;
  const words = figure.ceilings;
  const ladders = drawn.settings.flatMap(({ view }) => (view.ladder ? [{ name: view.name, ladder: view.ladder }] : []));
  const levels = ladders.flatMap(({ ladder }) => ladder.ceiling.levelDb.filter((level) => level !== null));
  if (levels.length === 0) return undefined;
  const bands = [...new Set(ladders.flatMap(({ ladder }) => ladder.bandsHz))].sort((a, b) => a - b);
  const told = (ladder: Ladder): string[] =>
    ladder.bandsHz.flatMap((hz, band) => {
      const level = ladder.ceiling.levelDb[band];
      return level === null ? [] : [words.level(level, nominalHz(hz), !ladder.ceiling.reached[band])];
    });
  const cell = (ladder: Ladder, band: number): number | string | null => {
    const level = ladder.ceiling.levelDb[band] ?? null;
    return level === null || ladder.ceiling.reached[band] ? level : `≥ ${say.number(level, 1)}`;
  };
  return {
    id: 'fig-ceilings',
    kind: 'ceilings',
    title: words.title,
    caption: words.caption,
    text: ladders.map(({ name, ladder }) => words.text(name, told(ladder))).join('. '),
    build: ceilingChart({
      rows: ladders.map(({ name, ladder }) => ({ name, bandsHz: ladder.bandsHz, ...ladder.ceiling })),
      words: ({ chart }) => ({ reached: chart.ceilingReached, atLeast: chart.ceilingAtLeast }),
      scale: drawn.session.scale,
      rangeHz: drawn.rangeHz,
      level: levelRange(levels),
    }),
    table: {
      caption: words.tableCaption,
      head: [figure.bandHead, ...ladders.map(({ name }) => name || words.level1)],
      rows: bands.map((hz) => [
        String(nominalHz(hz)),
        ...ladders.map(({ ladder }) => cell(ladder, ladder.bandsHz.indexOf(hz))),
      ]),
    },
  };
}
