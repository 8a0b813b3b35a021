import type { MaximumOutput } from '../../model/findings';
import type { ReportWords } from '../../words/reportWords';
import { discMark, KEY_SWATCH, type KeyItem, lineMark, type Mark, rectMark, triangleMark } from './marks';
import type { Palette } from './palette';

type Stop = MaximumOutput['centres'][number]['stoppedBy'];

/** Shape for what stopped the level: disc, square, open triangle ('at least'), open ring, cross. */
export function stopMark(stop: Stop, x: number, y: number, style: { colour: string; paper: string }): Mark[] {
  const { colour } = style;
  switch (stop) {
    case 'distortion':
      return [discMark(x, y, 5, style)];
    case 'compression':
      return [rectMark([x - 4.5, x + 4.5], [y - 4.5, y + 4.5], { fill: colour, stroke: colour, z: 6 })];
    case 'schedule':
      return [triangleMark(x, y, 6, { ...style, open: true })];
    case 'noise':
      return [discMark(x, y, 5, { ...style, open: true })];
    case 'clipping':
      return [-1, 1].map((slope) =>
        lineMark(
          [
            [x - 5, y - 5 * slope],
            [x + 5, y + 5 * slope],
          ],
          { stroke: colour, width: 2.5, z: 6 },
        ),
      );
  }
}

/** Key entries of the shapes in use. */
export function stopKey(stops: Stop[], palette: Palette, { chart }: ReportWords): KeyItem[] {
  const style = { colour: palette.muted, paper: palette.paper };
  return (Object.keys(chart.stops) as Stop[])
    .filter((stop) => stops.includes(stop))
    .map((stop) => ({ text: chart.stops[stop], swatch: (x, y) => stopMark(stop, x + KEY_SWATCH / 2, y, style) }));
}
