import type { ReportWords } from '../../words/reportWords';
import type { Frame } from './frame';
import { fitText, textWidth } from './layout';
import { KEY_SWATCH, type KeyItem, lineMark, type Mark, textMark } from './marks';
import { stackLabels } from './stackLabels';

/** A line ready to be drawn: few enough points, each with whether it can be trusted. */
export interface DrawnLine {
  label: string;
  points: { hz: number; value: number; trusted: boolean }[];
  /** From a bad capture: drawn in short dashes; its label carries the mark. */
  bad?: boolean;
}

export interface LineStyle {
  colour: string;
  width: number;
  dash?: number[];
}

/** Sparse dots: used for nothing but what cannot be trusted. */
export const UNTRUSTED_DASH = [1.5, 3.5];

/** Short dashes: what comes from a bad capture. */
const BAD_DASH = [5, 3];

/** Dashes that tell settings apart beside their colour. */
export const SETTING_DASHES: (number[] | undefined)[] = [
  undefined,
  [9, 4],
  [14, 4, 3, 4],
  [4, 4],
  [20, 5],
  [9, 3, 3, 3, 3, 3],
];

type Cell = [number, number | '-'];

/** ECharts line series of one line: a firm one for what is trusted, a dotted one for what is not. */
export function lineSeries(line: DrawnLine, style: LineStyle): object[] {
  const firm: Cell[] = [];
  const dotted: Cell[] = [];
  for (let i = 0; i + 1 < line.points.length; i++) {
    const [a, b] = [line.points[i], line.points[i + 1]];
    const into = a.trusted && b.trusted ? firm : dotted;
    if (into.length === 0 || into[into.length - 1][0] !== a.hz) {
      if (into.length > 0) into.push([a.hz, '-']);
      into.push([a.hz, a.value]);
    }
    into.push([b.hz, b.value]);
  }
  const series: object[] = [];
  if (firm.length > 0) series.push(plain(firm, line.bad ? { ...style, dash: BAD_DASH } : style));
  if (dotted.length > 0)
    series.push(plain(dotted, { ...style, width: Math.min(style.width, 1.4), dash: UNTRUSTED_DASH }));
  return series;
}

function plain(data: Cell[], style: LineStyle): object {
  return {
    type: 'line',
    data,
    showSymbol: false,
    silent: true,
    clip: true,
    emphasis: { disabled: true },
    lineStyle: { color: style.colour, width: style.width, type: style.dash ?? 'solid', join: 'round' },
  };
}

export interface EndLabel {
  text: string;
  colour: string;
  /** Value at the end of the line, which the label would like to stand beside. */
  value: number;
  bold?: boolean;
}

/** Room that end labels need to the right of the plot, px. */
export function endLabelMargin(texts: string[], fontSize: number, most: number): number {
  return Math.min(most, Math.ceil(Math.max(0, ...texts.map((text) => textWidth(text, fontSize))) + 24));
}

/** Names of lines beside their right ends, none over another; where too many, every second or third and the last. */
export function endLabels(frame: Frame, labels: EndLabel[]): Mark[] {
  const { fontSize } = frame.layout;
  const gap = fontSize * 1.2;
  const room = Math.max(1, Math.floor((frame.bottom - frame.top) / gap));
  const every = Math.ceil(labels.length / room);
  const kept = labels.filter((_, k) => (labels.length - 1 - k) % every === 0);
  const lineEnds = kept.map((label) => Math.min(Math.max(frame.y(label.value), frame.top), frame.bottom));
  const placed = stackLabels(lineEnds, gap, frame.top, frame.bottom);
  const width = frame.layout.width - frame.right - 16;
  return kept.flatMap((label, k) => [
    lineMark(
      [
        [frame.right + 1, lineEnds[k]],
        [frame.right + 12, placed[k]],
      ],
      { stroke: label.colour },
    ),
    textMark(fitText(label.text, fontSize, width), frame.right + 15, placed[k], {
      fill: label.colour,
      fontSize,
      bold: label.bold,
    }),
  ]);
}

/** Key entry of a line style. */
export function lineKey(text: string, style: LineStyle): KeyItem {
  return {
    text,
    swatch: (x, y) => [
      lineMark(
        [
          [x, y],
          [x + KEY_SWATCH, y],
        ],
        { stroke: style.colour, width: style.width, dash: style.dash },
      ),
    ],
  };
}

/** Key entries of what dots and short dashes mean, where there are any. */
export function untrustedKey(lines: DrawnLine[], colour: string, { chart }: ReportWords): KeyItem[] {
  const any = lines.some((line) => line.points.some((point) => !point.trusted));
  const bad = lines.some((line) => line.bad);
  return [
    ...(any ? [lineKey(chart.untrustedLine, { colour, width: 1.4, dash: UNTRUSTED_DASH })] : []),
    ...(bad ? [lineKey(chart.badLine, { colour, width: 1.6, dash: BAD_DASH })] : []),
  ];
}
