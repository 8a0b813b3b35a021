import { breaksOf } from '../figures/ladderFigure';
import { nameOfRun, type Session } from '../session';
import type { GlanceRow } from './glanceRow';

/** What the numbers rest on. */
export function trustRows({ words, captures }: Session): GlanceRow[] {
  const { page } = words;
  const { glanceTable: told } = page;
  return [
    [
      told.step,
      ({ ladder }) => {
        if (!ladder || ladder.rungs.length < 2) return null;
        const { commandedDb, measuredDb, uncertaintyDb } = ladder.step;
        if (!Number.isFinite(measuredDb ?? Number.NaN) || !Number.isFinite(uncertaintyDb ?? Number.NaN))
          return told.unknown;
        return told.stepValue(measuredDb as number, uncertaintyDb as number, commandedDb);
      },
    ],
    [
      told.breaks,
      (view) => {
        const lines = view.curves.map((curve) => ({ label: nameOfRun(curve, words) }));
        const breaks = breaksOf(view, lines).map(({ lower, upper }) => told.between(lower, upper));
        return breaks.length > 0 ? words.say.list(breaks) : null;
      },
    ],
    [
      told.cells,
      ({ ladder }) => {
        const cells = ladder?.trusted.flat() ?? [];
        return cells.length > 0 ? told.cellCount(cells.filter(Boolean).length, cells.length) : null;
      },
    ],
    [
      page.captures,
      ({ device, setting }) => {
        const own = captures.filter(({ about }) => about.device === device && about.setting === setting);
        const count = (verdict: string): number => own.filter((one) => one.verdict === verdict).length;
        return own.length > 0 ? page.captureTable.counts(count('good'), count('doubtful'), count('bad')) : null;
      },
    ],
  ];
}
