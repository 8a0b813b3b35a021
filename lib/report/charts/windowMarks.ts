import type { BandFit } from '../../model/findings';
import { xInside } from './dipMarks';
import type { Frame } from './frame';
import { textWidth } from './layout';
import { discMark, lineMark, type Mark, rectMark, textMark } from './marks';
import { stackLabels } from './stackLabels';

/** The window as a box, and its range as a measured length along the bottom of the plot, where no curve runs. */
export function windowMarks(frame: Frame, fit: BandFit): Mark[] {
  const { palette, layout } = frame;
  const x: [number, number] = [xInside(frame, fit.lowHz), xInside(frame, fit.highHz)];
  const y: [number, number] = [frame.y(fit.ceilingDb), frame.y(fit.floorDb)];
  const text = layout.words.say.hzRange(fit.lowHz, fit.highHz);
  const half = textWidth(text, layout.fontSize) / 2 + 2;
  const middle = Math.min(Math.max((x[0] + x[1]) / 2, frame.left + half), frame.right - half);
  const foot = frame.bottom - 8;
  const stroke = palette.windowEdge;
  const lines: [number, number][][] = [
    [
      [x[0], foot],
      [x[1], foot],
    ],
    ...x.map((end): [number, number][] => [
      [end, foot - 5],
      [end, foot + 5],
    ]),
  ];
  return [
    rectMark(x, y, { fill: palette.window, z: -2 }),
    rectMark(x, y, { stroke, z: 4 }),
    ...lines.map((line) => lineMark(line, { stroke, width: 1.5, z: 4 })),
    textMark(text, middle, foot - layout.fontSize * 0.85, {
      fill: stroke,
      fontSize: layout.fontSize,
      anchor: 'center',
      bold: true,
      halo: palette.paper,
    }),
  ];
}

/** Marks where the response is 3, 6 and 10 dB down at its low end; the names stand below the curve. */
export function pointMarks(frame: Frame, fit: BandFit): Mark[] {
  const { palette, layout } = frame;
  const gap = layout.fontSize * 1.25;
  const points = fit.points.flatMap(({ downDb, lowHz }) =>
    lowHz === null || lowHz < frame.rangeHz[0] || fit.referenceDb - downDb < frame.level.min
      ? []
      : [{ downDb, hz: lowHz, y: frame.y(fit.referenceDb - downDb) }],
  );
  const lowest = frame.bottom - 8 - layout.fontSize * 2.2;
  const labels = stackLabels(
    points.map((point) => point.y + gap * 0.4),
    gap,
    frame.top,
    lowest,
  );
  return points.flatMap((point, k) => [
    discMark(frame.x(point.hz), point.y, 4, { colour: palette.ink, paper: palette.paper }),
    textMark(layout.words.chart.pointDown(point.downDb, point.hz), frame.x(point.hz) + 10, labels[k], {
      fill: palette.ink,
      fontSize: layout.fontSize,
      halo: palette.paper,
    }),
  ]);
}
