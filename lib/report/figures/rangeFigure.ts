import { isDoubted } from '../../model/caveat';
import { rangeChart } from '../charts/rangeChart';
import { nameOfRun } from '../session';
import type { DrawnSession, DrawnSetting } from './drawnSession';
import type { Figure } from './figure';

/** The range inside the window, rung by rung. */
export function rangeFigure(drawn: DrawnSession, { view }: DrawnSetting, index: number): Figure | undefined {
  const { words } = drawn.session;
  const { range, yes, no } = words.figure;
  const rungs = view.fits
    .filter((fit) => fit.about.driveDb !== undefined && fit.heightDb === view.fit?.heightDb)
    .map((fit) => ({ driveDb: fit.about.driveDb as number, fit }));
  if (rungs.length < 2) return undefined;
  const [quiet, loud] = [rungs[0].fit, rungs[rungs.length - 1].fit];
  const { heightDb } = quiet;
  return {
    id: `fig-range-${index}`,
    kind: 'range',
    title: range.title(heightDb, view.name),
    caption: range.caption(heightDb),
    text: range.text(
      words.say.hzRange(quiet.lowHz, quiet.highHz),
      nameOfRun(quiet, words),
      words.say.hzRange(loud.lowHz, loud.highHz),
      nameOfRun(loud, words),
    ),
    build: rangeChart({ rungs, heightDb, rangeHz: drawn.rangeHz }),
    table: {
      caption: range.tableCaption(heightDb, view.name),
      head: range.head,
      decimals: [1, 1, 1, 2, 1, 1],
      rows: rungs.map(({ driveDb, fit }) => [
        words.chart.driveNumber(driveDb),
        fit.lowHz,
        fit.highHz,
        fit.octaves,
        fit.withoutMasks.lowHz,
        fit.withoutMasks.highHz,
        isDoubted(fit) ? yes : no,
      ]),
    },
  };
}
