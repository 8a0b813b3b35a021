import type { Caveat } from '../model/caveat';
import type { Ladder } from '../model/findings';
import { makeCaveat } from '../words/makeCaveat';
import { pickEvenly } from './figures/pickRungs';
import type { DrawnFigure } from './html/figureHtml';
import type { Session, SettingView } from './session';

/** A page of that many letters opens at once, also on a phone; base64 and drawings count as they are written. */
const MOST_FIGURES = 2.2e6;
/** Of a setting with more runs, so many are drawn: lines closer than that cannot be told apart. */
const MOST_RUNS = 60;

/** The session as it is drawn: of a setting of very many runs only some, evenly over the drives, those judged among them. */
export function thinForFigures(session: Session): { drawn: Session; notes: Caveat[] } {
  const isLong = ({ curves, ladder }: SettingView) => Math.max(curves.length, ladder?.rungs.length ?? 0) > MOST_RUNS;
  const long = session.settings.filter(isLong);
  if (long.length === 0) return { drawn: session, notes: [] };
  const notes = long.map(({ device, setting, curves }) => {
    const where = { ...(device !== undefined && { device }), ...(setting !== undefined && { setting }) };
    return makeCaveat('page-runs-thinned', 'remark', { shown: MOST_RUNS, of: curves.length }, where);
  });
  return { drawn: { ...session, settings: session.settings.map((view) => (isLong(view) ? thin(view) : view)) }, notes };
}

function thin(view: SettingView): SettingView {
  const { curves, fits, judged, ladder } = view;
  const kept = new Set(pickEvenly(curves.length, 0, MOST_RUNS).map((i) => curves[i]));
  if (judged) kept.add(judged);
  const ids = new Set([...kept].map(({ id }) => id));
  return {
    ...view,
    curves: curves.filter((curve) => kept.has(curve)),
    fits: fits.filter(({ curve }) => ids.has(curve)),
    ladder: ladder && thinLadder(ladder, ids),
  };
}

/** Of every list with an entry a rung the same entries. */
function thinLadder(ladder: Ladder, ids: Set<string>): Ladder {
  const { length } = ladder.rungs;
  if (length <= MOST_RUNS) return ladder;
  const own = ladder.rungs.flatMap(({ id }, k) => (ids.has(id) ? [k] : []));
  const kept = own.length > 1 ? own : pickEvenly(length, 0, MOST_RUNS);
  const perRung = ['rungs', 'levelDb', 'snrDb', 'compressionDb', 'trusted'] as const;
  const thinned = perRung.map((key) => [key, kept.map((k) => ladder[key][k])] as const);
  return { ...ladder, ...Object.fromEntries(thinned) };
}

/** The figures that fit the page, from the first on. */
export function fitFigures(figures: DrawnFigure[]): { kept: Set<DrawnFigure>; notes: Caveat[] } {
  let left = MOST_FIGURES;
  const kept = new Set<DrawnFigure>();
  for (const one of figures) {
    left -= one.wideSvg.length + one.narrowSvg.length;
    if (left < 0 && kept.size > 0) break;
    kept.add(one);
  }
  const count = figures.length - kept.size;
  return { kept, notes: count > 0 ? [makeCaveat('page-figures-left', 'remark', { count })] : [] };
}
