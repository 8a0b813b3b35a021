import { nominalHz, thirdOctaveCentres } from '../../model/octaves';
import { type OverviewRow, overviewChart } from '../charts/overviewChart';
import { valueAt } from '../charts/valueAt';
import { nameOfRun } from '../session';
import { type DrawnSession, dipsOf, drivenRegions, trustedLevels, wholeRange, windowLevels } from './drawnSession';
import type { Figure } from './figure';

/** The picture that stands first: each setting in one run, at equal drive where there is one, with its window and where it is limited. */
export function overviewFigure(drawn: DrawnSession): Figure | undefined {
  const { session, rangeHz } = drawn;
  const { words } = session;
  const shown = drawn.settings.flatMap(({ view, lines }) => {
    const rank = view.judged ? view.curves.indexOf(view.judged) : -1;
    if (!view.judged || rank < 0 || lines[rank].points.length === 0) return [];
    const fit =
      view.fit?.curve === view.judged.id || view.fit?.about.driveDb === view.judged.about.driveDb
        ? view.fit
        : undefined;
    const line = { ...lines[rank], label: view.name };
    return [{ view, curve: view.judged, row: { line, fit, regions: drivenRegions(view) } satisfies OverviewRow }];
  });
  if (shown.length === 0) return undefined;
  const { overview, ladder } = words.figure;
  const views = shown.map(({ view }) => view);
  const rows = shown.map(({ row }) => row);
  const dips = dipsOf(session, views);
  const drives = new Set(shown.map(({ curve }) => curve.about.driveDb));
  const [driveDb] = drives;
  const runs = shown.map(({ view, curve }) => ({
    name: view.name,
    drive: curve.about.driveDb === undefined ? null : nameOfRun(curve, words),
  }));
  const told = shown.flatMap(({ view, row: { fit, regions } }) => [
    ...(fit ? [overview.range(view.name, fit.lowHz, fit.highHz, fit.heightDb)] : []),
    ...regions.map((one, k) =>
      ladder.region(one.lowHz, one.highHz, one.fromDb, one.toDb, view.ladder?.regions[k].ceilingDb ?? Number.NaN),
    ),
  ]);
  if (dips.length > 0) told.push(overview.dips(dips.map(({ frequencyHz }) => frequencyHz)));
  return {
    id: 'fig-response',
    kind: 'response',
    title: overview.title(shown.length),
    caption: overview.caption(runs, drives.size === 1 && driveDb !== undefined ? driveDb : null),
    text: overview.text(told, shown.length),
    build: overviewChart({
      rows,
      dips,
      scale: session.scale,
      rangeHz,
      level: wholeRange(trustedLevels(rows.map(({ line }) => line)), views.flatMap(windowLevels), [10, 20]),
    }),
    table: {
      caption: overview.tableCaption,
      head: [words.figure.frequencyHead, ...views.map(({ name }) => overview.levelOf(name))],
      rows: thirdOctaveCentres(...rangeHz).map((hz) => [
        String(nominalHz(hz)),
        ...rows.map(({ line }) => valueAt(line, hz)),
      ]),
    },
  };
}
