import type { EChartsOption } from 'echarts';
import type { Interval } from '../../model/curve';
import type { BandFit, RoomFeature } from '../../model/findings';
import { formatHertz, formatHzRange, formatShort, MINUS } from '../format';
import {
  type DrawnLine,
  endLabelMargin,
  endLabels,
  type LineStyle,
  lineKey,
  lineSeries,
  untrustedKey,
} from './drawnLine';
import { type Frame, frameOption, levelTitle, makeFrame } from './frame';
import { textWidth } from './layout';
import type { LevelRange } from './levelRange';
import { discMark, KEY_SWATCH, type KeyItem, lineMark, type Mark, rectMark, textMark } from './marks';
import { type Palette, rampIndex } from './palette';
import type { ChartBuilder } from './renderSvg';
import { stackLabels } from './stackLabels';

export interface ResponseChartParts {
  lines: (DrawnLine & { rank: number; main: boolean })[];
  /** How many ranks there are: the ladder that the lines were picked from. */
  ranks: number;
  fit?: BandFit;
  features: RoomFeature[];
  scale: 'spl' | 'relative';
  rangeHz: Interval;
  level: LevelRange;
}

/** Responses of some rungs with the window of the band fit, its -3/-6/-10 dB points and the room's dips. */
export function responseChart(parts: ResponseChartParts): ChartBuilder {
  return (layout, palette) => {
    const dips = parts.features.filter((feature) => feature.kind === 'dip' && touches(feature.maskHz, parts.rangeHz));
    const frame = makeFrame(layout, palette, {
      rangeHz: parts.rangeHz,
      level: parts.level,
      title: levelTitle(parts.scale),
      key: keyOf(parts, dips, palette),
      marginRight: endLabelMargin(
        parts.lines.map((line) => line.label),
        layout.fontSize,
        layout.width / 4,
      ),
      marginTop: dips.length > 0 ? layout.fontSize * 1.3 : 0,
    });
    const styled = parts.lines.map((line) => ({ line, style: styleOf(line, parts.ranks, palette) }));
    const option: EChartsOption = {
      ...frameOption(frame),
      series: styled.flatMap(({ line, style }) => lineSeries(line, style)) as EChartsOption['series'],
      graphic: {
        elements: [
          ...frame.marks,
          ...dipMarks(frame, dips),
          ...(parts.fit ? [...windowMarks(frame, parts.fit), ...pointMarks(frame, parts.fit)] : []),
          ...endLabels(
            frame,
            styled.flatMap(({ line, style }) => {
              const end = line.points[line.points.length - 1];
              return end ? [{ text: line.label, colour: style.colour, value: end.value, bold: line.main }] : [];
            }),
          ),
        ] as never,
      },
    };
    return { option, height: frame.height };
  };
}

function styleOf(line: { rank: number; main: boolean }, ranks: number, palette: Palette): LineStyle {
  return { colour: palette.ramp[rampIndex(line.rank, ranks)], width: line.main ? 3 : 1.5 };
}

function keyOf(parts: ResponseChartParts, dips: RoomFeature[], palette: Palette): KeyItem[] {
  const area = (text: string, fill: string, stroke?: string, dash?: number[]): KeyItem => ({
    text,
    swatch: (x, y) => [rectMark([x, x + KEY_SWATCH], [y - 6, y + 6], { fill, stroke, dash, z: 1 })],
  });
  const main = parts.lines.find((line) => line.main);
  return [
    ...(parts.fit && main
      ? [
          lineKey('run the window is read from', styleOf(main, parts.ranks, palette)),
          area(`window, ${formatShort(parts.fit.heightDb)} dB tall`, palette.window, palette.windowEdge),
        ]
      : []),
    ...(dips.length > 0 ? [area('dip of the room, Hz', palette.dip)] : []),
    ...untrustedKey(parts.lines, palette.muted),
  ];
}

/** Shades dips and writes their frequencies above the plot, the deepest first where not all have room. */
export function dipMarks(frame: Frame, dips: RoomFeature[]): Mark[] {
  const { palette, layout } = frame;
  const gap = textWidth('88.8', layout.fontSize) + 4;
  const most = Math.floor((frame.right - frame.left) / gap);
  const named = [...dips]
    .sort((a, b) => b.prominenceDb - a.prominenceDb)
    .slice(0, most)
    .sort((a, b) => a.frequencyHz - b.frequencyHz);
  const at = stackLabels(
    named.map((dip) => frame.x(dip.frequencyHz)),
    gap,
    frame.left + gap / 2,
    frame.right - gap / 2,
  );
  return [
    ...dips.map((dip) =>
      rectMark([clampX(frame, dip.maskHz[0]), clampX(frame, dip.maskHz[1])], [frame.top, frame.bottom], {
        fill: palette.dip,
      }),
    ),
    ...named.map((dip, k) =>
      textMark(formatHertz(dip.frequencyHz), at[k], frame.top - layout.fontSize * 0.75, {
        fill: palette.muted,
        fontSize: layout.fontSize,
        anchor: 'center',
      }),
    ),
  ];
}

/** The window as a box, and its range as a measured length along the bottom of the plot, where no curve runs. */
function windowMarks(frame: Frame, fit: BandFit): Mark[] {
  const { palette, layout } = frame;
  const x: [number, number] = [clampX(frame, fit.lowHz), clampX(frame, fit.highHz)];
  const y: [number, number] = [frame.y(fit.ceilingDb), frame.y(fit.floorDb)];
  const text = formatHzRange(fit.lowHz, fit.highHz);
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
function pointMarks(frame: Frame, fit: BandFit): Mark[] {
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
    textMark(
      `${MINUS}${formatShort(point.downDb)} dB: ${formatHertz(point.hz)} Hz`,
      frame.x(point.hz) + 10,
      labels[k],
      {
        fill: palette.ink,
        fontSize: layout.fontSize,
        halo: palette.paper,
      },
    ),
  ]);
}

function clampX(frame: Frame, hz: number): number {
  return frame.x(Math.min(Math.max(hz, frame.rangeHz[0]), frame.rangeHz[1]));
}

function touches([low, high]: Interval, [from, to]: Interval): boolean {
  return high > from && low < to;
}
