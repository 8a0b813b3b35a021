import type { EChartsOption } from 'echarts';
import type { Interval } from '../../model/curve';
import type { ReportWords } from '../../words/reportWords';
import { xInside } from './dipMarks';
import {
  type DrawnLine,
  endLabelMargin,
  endLabels,
  type LineStyle,
  lineKey,
  lineSeries,
  SETTING_DASHES,
  untrustedKey,
} from './drawnLine';
import { type Frame, frameOption, makeFrame } from './frame';
import type { LevelRange } from './levelRange';
import { KEY_SWATCH, type KeyItem, lineMark, type Mark, rectMark, textMark, triangleMark } from './marks';
import { type Palette, rampIndex } from './palette';
import { placeNames } from './placeNames';
import type { ChartBuilder } from './renderSvg';

export interface LinesChartParts {
  lines: DrawnLine[];
  /**
   * Of more lines than there are colours: which group each is of, and the names of the groups, '' where there is but one. Lines of
   * one group are told apart by how light they are, those of several by the colour of their group.
   */
  groups?: { of: number[]; names: string[] };
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
    const labels = lines.map(({ label }) => label);
    // a key of many names would leave no room for their lines
    const names = parts.groups
      ? { isBeside: true, margin: endLabelMargin(labels, layout.fontSize, layout.width / 3), key: [] }
      : placeNames(layout, labels, style);
    const { words } = layout;
    const frame = makeFrame(layout, palette, {
      rangeHz: parts.rangeHz,
      level: parts.level,
      title: parts.title(words),
      key: [
        ...names.key,
        ...groupKey(parts, palette),
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
                  return end && line.label ? [{ text: line.label, colour: style(k).colour, value: end.value }] : [];
                }),
              )
            : []),
        ] as never,
      },
    };
    return { option, height: frame.height };
  };
}

function styleOf({ lines, groups }: LinesChartParts, palette: Palette, k: number): LineStyle {
  if (!groups) return { ...ofOwn(palette, k), width: lines.length === 1 ? 2.4 : 1.8 };
  if (groups.names.length > 1) return { ...ofOwn(palette, groups.of[k]), width: 1.2 };
  return { colour: palette.ramp[rampIndex(k, lines.length)], width: 1.6 };
}

function ofOwn(palette: Palette, k: number): { colour: string; dash?: number[] } {
  return { colour: palette.lines[k % 6], dash: SETTING_DASHES[k % 6] };
}

function groupKey({ groups }: LinesChartParts, palette: Palette): KeyItem[] {
  if (!groups || groups.names.length < 2) return [];
  return groups.names.map((name, k) => lineKey(name, { ...ofOwn(palette, k), width: 1.8 }));
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
    textMark(text, frame.right - 6, y + layout.fontSize * 0.8, {
      fill: palette.muted,
      fontSize: layout.fontSize,
      anchor: 'right',
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
