import type { EChartsOption } from 'echarts';
import type { Interval } from '../../model/curve';
import type { BandFit } from '../../model/findings';
import type { ReportWords } from '../../words/reportWords';
import { DIP_NAMES, type Dip, dipMarks } from './dipMarks';
import {
  type DrawnLine,
  endLabelMargin,
  endLabels,
  type LineStyle,
  lineKey,
  lineSeries,
  untrustedKey,
} from './drawnLine';
import { frameOption, makeFrame } from './frame';
import type { LevelRange } from './levelRange';
import { KEY_SWATCH, type KeyItem, rectMark } from './marks';
import { type Palette, rampIndex } from './palette';
import type { ChartBuilder } from './renderSvg';
import { pointMarks, windowMarks } from './windowMarks';

export interface ResponseChartParts {
  lines: (DrawnLine & { rank: number; main: boolean })[];
  /** How many ranks there are: the ladder that the lines were picked from. */
  ranks: number;
  fit?: BandFit;
  /** What was left out. */
  dips: Dip[];
  scale: 'spl' | 'relative';
  rangeHz: Interval;
  level: LevelRange;
}

/** Responses of some rungs with the window of the band fit, its -3/-6/-10 dB points and the room's dips. */
export function responseChart(parts: ResponseChartParts): ChartBuilder {
  return (layout, palette) => {
    const dips = parts.dips.filter(({ maskHz }) => touches(maskHz, parts.rangeHz));
    const frame = makeFrame(layout, palette, {
      rangeHz: parts.rangeHz,
      level: parts.level,
      title: layout.words.chart.levelAxis(parts.scale),
      key: keyOf(parts, dips, layout.words, palette),
      marginRight: endLabelMargin(
        parts.lines.map((line) => line.label),
        layout.fontSize,
        layout.width / 4,
      ),
      marginTop: dips.length > 0 ? layout.fontSize * DIP_NAMES : 0,
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

function keyOf(parts: ResponseChartParts, dips: Dip[], words: ReportWords, palette: Palette): KeyItem[] {
  const area = (text: string, fill: string, stroke?: string, dash?: number[]): KeyItem => ({
    text,
    swatch: (x, y) => [rectMark([x, x + KEY_SWATCH], [y - 6, y + 6], { fill, stroke, dash, z: 1 })],
  });
  const main = parts.lines.find((line) => line.main);
  return [
    ...(parts.fit && main
      ? [
          lineKey(words.chart.windowRun, styleOf(main, parts.ranks, palette)),
          area(words.chart.window(parts.fit.heightDb), palette.window, palette.windowEdge),
        ]
      : []),
    ...(dips.length > 0 ? [area(words.chart.leftOut, palette.dip)] : []),
    ...untrustedKey(parts.lines, palette.muted, words),
  ];
}

export function touches([low, high]: Interval, [from, to]: Interval): boolean {
  return high > from && low < to;
}
