import type { EChartsOption } from 'echarts';
import type { Interval } from '../../model/curve';
import type { ReportWords } from '../../words/reportWords';
import { xInside } from './dipMarks';
import { type DrawnLine, endLabels, type LineStyle, lineSeries, SETTING_DASHES, untrustedKey } from './drawnLine';
import { type Frame, frameOption, makeFrame } from './frame';
import type { LevelRange } from './levelRange';
import { KEY_SWATCH, type KeyItem, lineMark, type Mark, rectMark, textMark, triangleMark } from './marks';
import { type Palette, rampIndex } from './palette';
import { placeNames } from './placeNames';
import type { ChartBuilder } from './renderSvg';

export interface LinesChartParts {
  lines: DrawnLine[];
  /** Lines that come one above the other, as the rungs of a ladder do; else each has a colour and dashes of its own. */
  isRising: boolean;
  title: (words: ReportWords) => string;
  /** A level to be ruled, with what it means. */
  rule?: { value: number; text: (words: ReportWords) => string };
  /** Frequencies to be marked on the lower edge, Hz, a range to be shaded, and what they are. */
  marks?: { hz: number[]; ofRangeHz?: Interval; text: (words: ReportWords) => string };
  rangeHz: Interval;
  level: LevelRange;
}

/** Any lines over frequency, each with its name. */
export function linesChart(parts: LinesChartParts): ChartBuilder {
  return (layout, palette) => {
    const { lines, rule, marks } = parts;
    const style = (k: number): LineStyle => styleOf(parts, palette, k);
    // names of rungs are short, and every second can be left out where there are many
    const names = placeNames(
      layout,
      lines.map(({ label }) => label),
      style,
    );
    const { words } = layout;
    const frame = makeFrame(layout, palette, {
      rangeHz: parts.rangeHz,
      level: parts.level,
      title: parts.title(words),
      key: [
        ...names.key,
        ...untrustedKey(lines, palette.muted, words),
        ...(marks && (marks.hz.length > 0 || marks.ofRangeHz) ? [markKey(marks, words, palette)] : []),
      ],
      marginRight: names.margin,
    });
    const option: EChartsOption = {
      ...frameOption(frame),
      series: lines.flatMap((line, k) => lineSeries(line, style(k))) as EChartsOption['series'],
      graphic: {
        elements: [
          ...frame.marks,
          ...(marks?.ofRangeHz ? [shade(frame, marks.ofRangeHz)] : []),
          ...(rule ? ruleMarks(frame, rule.value, rule.text(words)) : []),
          ...(marks?.hz ?? [])
            .filter((hz) => hz >= frame.rangeHz[0] && hz <= frame.rangeHz[1])
            .map((hz) => edgeMark(frame.x(hz), frame.bottom - 6, palette)),
          ...(names.isBeside
            ? endLabels(
                frame,
                lines.flatMap((line, k) => {
                  const end = line.points[line.points.length - 1];
                  return end ? [{ text: line.label, colour: style(k).colour, value: end.value }] : [];
                }),
              )
            : []),
        ] as never,
      },
    };
    return { option, height: frame.height };
  };
}

function styleOf({ lines, isRising }: LinesChartParts, palette: Palette, k: number): LineStyle {
  if (isRising) return { colour: palette.ramp[rampIndex(k, lines.length)], width: 1.6 };
  return { colour: palette.lines[k % 6], width: lines.length === 1 ? 2.4 : 1.8, dash: SETTING_DASHES[k % 6] };
}

function ruleMarks(frame: Frame, value: number, text: string): Mark[] {
  const y = frame.y(value);
  const { palette, layout } = frame;
  if (y < frame.top || y > frame.bottom) return [];
  return [
    lineMark(
      [
        [frame.left, y],
        [frame.right, y],
      ],
      { stroke: palette.muted, dash: [6, 4], z: 1 },
    ),
    textMark(text, frame.left + 6, y - layout.fontSize * 0.8, {
      fill: palette.muted,
      fontSize: layout.fontSize,
      halo: palette.paper,
    }),
  ];
}

function edgeMark(x: number, y: number, { lines, paper }: Palette): Mark {
  return triangleMark(x, y, 5, { colour: lines[1], paper });
}

function shade(frame: Frame, [low, high]: Interval): Mark {
  return rectMark([xInside(frame, low), xInside(frame, high)], [frame.top, frame.bottom], {
    fill: frame.palette.peak,
    z: -2,
  });
}

function markKey({ hz, text }: NonNullable<LinesChartParts['marks']>, words: ReportWords, palette: Palette): KeyItem {
  return {
    text: text(words),
    swatch: (x, y) =>
      hz.length > 0
        ? [edgeMark(x + KEY_SWATCH / 2, y, palette)]
        : [rectMark([x, x + KEY_SWATCH], [y - 6, y + 6], { fill: palette.peak, z: 1 })],
  };
}
