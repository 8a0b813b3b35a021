import { passedFromStart } from '../../analysis/conclusions/passedFromStart';
import { nominalHz } from '../../model/octaves';
import { ceilingChart } from '../charts/ceilingChart';
import { bandEdges } from '../charts/heatMap';
import { levelRange } from '../charts/levelRange';
import type { TableCell } from '../html/dataTable';
import type { DrawnSession, DrawnSetting } from './drawnSession';
import type { Figure } from './figure';

/** The level up to which each band stays below the percentages asked for. */
export function cleanFigure(drawn: DrawnSession, { view }: DrawnSetting, index: number): Figure | undefined {
  const { distortion } = view;
  const levels = distortion?.passes.flatMap(({ levelDb }) => levelDb.filter((level) => level !== null)) ?? [];
  if (!distortion || levels.length === 0) return undefined;
  const { figure, say } = drawn.session.words;
  const { clean } = figure;
  const names = distortion.passes.map(({ percent }) => clean.percent(percent));
  const rows = distortion.passes.map((pass, k) => ({
    name: names[k],
    bandsHz: distortion.bandsHz,
    levelDb: pass.levelDb,
    reached: pass.reached,
    atMost: distortion.bandsHz.map((_, band) => passedFromStart(distortion, pass, band)),
  }));
  const sign = (row: (typeof rows)[number], band: number): '' | '≥' | '≤' =>
    row.reached[band] ? (row.atMost[band] ? '≤' : '') : '≥';
  const told = rows.map((row) =>
    clean.text(
      row.name,
      row.levelDb.flatMap((level, band) => {
        if (level === null) return [];
        const text = figure.ceilings.level(level, nominalHz(distortion.bandsHz[band]), false);
        const mark = sign(row, band);
        return [mark === '' ? text : mark === '≥' ? figure.atLeast(text) : figure.atMost(text)];
      }),
    ),
  );
  const lowestDb = distortion.rungs[0]?.driveDb ?? 0;
  return {
    id: `fig-clean-${index}`,
    kind: 'clean',
    title: clean.title(names, view.name),
    caption: clean.caption,
    text: figure.map.text(told),
    build: ceilingChart({
      rows,
      words: ({ chart }) => ({ reached: chart.passReached, atLeast: chart.passAtLeast, atMost: chart.passAtMost }),
      scale: distortion.scale,
      rangeHz: bandEdges([...distortion.bandsHz, ...(view.ladder?.bandsHz ?? [])], drawn.rangeHz),
      level: levelRange(levels),
    }),
    table: {
      caption: clean.tableCaption(view.name),
      head: [figure.bandHead, ...names.flatMap(clean.head)],
      rows: distortion.bandsHz.map((hz, band) => [
        String(nominalHz(hz)),
        ...rows.flatMap((row, k): TableCell[] => {
          const [level, drive] = [row.levelDb[band], distortion.passes[k].driveDb[band]];
          const mark = sign(row, band);
          return [
            level === null || mark === '' ? level : `${mark} ${say.number(level, 1)}`,
            drive === null ? null : drawn.session.words.chart.driveNumber(lowestDb + drive),
          ];
        }),
      ]),
    },
  };
}
