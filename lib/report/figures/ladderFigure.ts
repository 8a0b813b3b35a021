import { nominalHz, thirdOctaveCentres } from '../../model/octaves';
import { ladderChart } from '../charts/ladderChart';
import { valueAt } from '../charts/valueAt';
import type { SettingView } from '../session';
import { type DrawnSession, type DrawnSetting, drivenRegions } from './drawnSession';
import type { Figure } from './figure';

/** Responses of all rungs above each other, with where they are limited and which do not fit each other. */
export function ladderFigure(drawn: DrawnSession, { view, lines }: DrawnSetting, index: number): Figure | undefined {
  const shown = lines.filter((line) => line.points.length > 0);
  if (shown.length < 2) return undefined;
  const { figure, chart } = drawn.session.words;
  const { name, ladder } = view;
  const regions = drivenRegions(view);
  const breaks = breaksOf(view, lines);
  const bad = shown.filter((line) => line.bad).length;
  const told = [
    ...regions.map((one, k) =>
      figure.ladder.region(one.lowHz, one.highHz, one.fromDb, one.toDb, ladder?.regions[k].ceilingDb ?? Number.NaN),
    ),
    ...breaks.map(({ lower, upper, offDb }) => chart.breakBetween(lower, upper, offDb)),
    ...(ladder?.extent === 'unknown' ? [chart.extentUnknown] : []),
    ...(bad > 0 ? [figure.ladder.bad(bad)] : []),
  ];
  return {
    id: `fig-ladder-${index}`,
    kind: 'ladder',
    title: figure.ladder.title(name),
    caption: figure.ladder.caption,
    text: figure.ladder.text(shown.length, shown[0].label, shown[shown.length - 1].label, told),
    build: ladderChart({
      ...drawn,
      lines: shown,
      regions,
      breaks,
      isExtentUnknown: ladder?.extent === 'unknown',
      scale: drawn.session.scale,
    }),
    table: {
      caption: figure.ladder.tableCaption(name),
      head: [figure.frequencyHead, ...shown.map((line) => line.label)],
      rows: thirdOctaveCentres(...drawn.rangeHz).map((hz) => [
        String(nominalHz(hz)),
        ...shown.map((line) => valueAt(line, hz)),
      ]),
    },
  };
}

/** Breaks under the names of the lines that they lie between. */
export function breaksOf(
  { ladder, curves }: SettingView,
  lines: { label: string }[],
): { lower: string; upper: string; offDb: number }[] {
  const nameOf = (id: string): string => {
    const at = curves.findIndex((curve) => curve.id === id);
    return lines[at]?.label ?? ladder?.rungs.find((rung) => rung.id === id)?.label ?? id;
  };
  return (ladder?.breaks ?? []).map(({ between: [lower, upper], offDb }) => ({
    lower: nameOf(lower),
    upper: nameOf(upper),
    offDb,
  }));
}
