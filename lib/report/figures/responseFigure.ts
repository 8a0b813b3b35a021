import { nominalHz, thirdOctaveCentres } from '../../model/octaves';
import { responseChart } from '../charts/responseChart';
import { valueAt } from '../charts/valueAt';
import { nameOfRun } from '../session';
import { type DrawnSession, type DrawnSetting, dipsOf } from './drawnSession';
import type { Figure } from './figure';
import { pickEvenly } from './pickRungs';

const MOST_LINES = 4;

/** Responses of a setting with the window drawn in and what it left out shaded. */
export function responseFigure(drawn: DrawnSession, { view, lines }: DrawnSetting, index: number): Figure | undefined {
  if (lines.every((line) => line.points.length === 0)) return undefined;
  const { words } = drawn.session;
  const { response } = words.figure;
  const { fit, name } = view;
  const main = fit
    ? view.curves.findIndex((curve) => curve.id === fit.curve || curve.about.driveDb === fit.about.driveDb)
    : -1;
  const picks = pickEvenly(lines.length, Math.max(main, 0), MOST_LINES);
  const picked = picks.map((rank) => ({ ...lines[rank], rank, main: rank === main }));
  const dips = dipsOf(drawn.session, [view]);
  const points = (fit?.points ?? []).flatMap(({ downDb, lowHz }) =>
    lowHz === null ? [] : [response.down(downDb, lowHz)],
  );
  const bad = picked.filter((line) => line.bad).length;
  const told = [
    ...(fit ? [response.window(fit.lowHz, fit.highHz, fit.floorDb, fit.ceilingDb)] : []),
    ...points,
    ...(dips.length > 0 ? [response.dips(dips.map(({ frequencyHz }) => frequencyHz))] : []),
    ...(bad > 0 ? [words.figure.ladder.bad(bad)] : []),
  ];
  return {
    id: `fig-response-${index}`,
    kind: 'response',
    title: response.title(name),
    caption: response.caption(fit ? nameOfRun(fit, words) : '', fit ? fit.heightDb : null),
    text: response.text(picked.length, told),
    build: responseChart({ ...drawn, lines: picked, ranks: lines.length, fit, dips, scale: drawn.session.scale }),
    table: {
      caption: response.tableCaption(name),
      head: [words.figure.frequencyHead, ...picked.map((line) => line.label)],
      rows: thirdOctaveCentres(...drawn.rangeHz).map((hz) => [
        String(nominalHz(hz)),
        ...picked.map((line) => valueAt(line, hz)),
      ]),
    },
  };
}
