import type { EChartsOption } from 'echarts';
import type { Interval } from '../../model/curve';
import type { Ladder } from '../../model/findings';
import { xInside } from './dipMarks';
import { type DrawnLine, endLabelMargin, endLabels, lineSeries, untrustedKey } from './drawnLine';
import { type Frame, frameOption, makeFrame } from './frame';
import { type Layout, textWidth } from './layout';
import type { LevelRange } from './levelRange';
import { KEY_SWATCH, type KeyItem, lineMark, type Mark, rectMark, textMark } from './marks';
import { type Palette, rampIndex } from './palette';
import type { ChartBuilder } from './renderSvg';

/** A limited range with the drives at which its first and its last band start to limit. */
export type DrivenRegion = Pick<Ladder['regions'][number], 'lowHz' | 'highHz' | 'kind'> & {
  fromDb: number;
  toDb: number;
};

export interface LadderChartParts {
  /** One line a rung, lowest first. */
  lines: DrawnLine[];
  /** Drives as the runs name them. */
  regions: DrivenRegion[];
  /** Whether too little is known to say where it limits. */
  isExtentUnknown: boolean;
  breaks: { lower: string; upper: string; offDb: number }[];
  scale: 'spl' | 'relative';
  rangeHz: Interval;
  level: LevelRange;
}

/** Responses of all rungs above each other; where they crowd together, drive is lost. Bars on top mark where it is limited. */
export function ladderChart(parts: LadderChartParts): ChartBuilder {
  return (layout, palette) => {
    const rows = regionRows(parts.regions);
    const rowHeight = layout.fontSize * 1.5;
    const frame = makeFrame(layout, palette, {
      rangeHz: parts.rangeHz,
      level: parts.level,
      title: layout.words.chart.levelAxis(parts.scale),
      key: [
        ...untrustedKey(parts.lines, palette.muted, layout.words),
        ...breakKey(parts, layout, palette),
        ...(parts.isExtentUnknown ? [{ text: layout.words.chart.extentUnknown, swatch: unknownSwatch(palette) }] : []),
      ],
      marginRight: endLabelMargin(
        parts.lines.map((line) => line.label),
        layout.fontSize,
        layout.width / 4,
      ),
      marginTop: rows.length > 0 ? rows.length * rowHeight + 4 : 0,
    });
    const colours = parts.lines.map((_, k) => palette.ramp[rampIndex(k, parts.lines.length)]);
    const option: EChartsOption = {
      ...frameOption(frame),
      series: parts.lines.flatMap((line, k) =>
        lineSeries(line, { colour: colours[k], width: 1.6 }),
      ) as EChartsOption['series'],
      graphic: {
        elements: [
          ...frame.marks,
          ...regionMarks(frame, rows, rowHeight),
          ...breakMarks(frame, parts),
          ...endLabels(
            frame,
            parts.lines.flatMap((line, k) => {
              const end = line.points[line.points.length - 1];
              return end ? [{ text: line.label, colour: colours[k], value: end.value }] : [];
            }),
          ),
        ] as never,
      },
    };
    return { option, height: frame.height };
  };
}

/** Puts regions that overlap into different rows. */
function regionRows(regions: DrivenRegion[]): DrivenRegion[][] {
  const rows: DrivenRegion[][] = [];
  for (const region of [...regions].sort((a, b) => a.lowHz - b.lowHz)) {
    const row = rows.find((one) => one[one.length - 1].highHz <= region.lowHz);
    if (row) row.push(region);
    else rows.push([region]);
  }
  return rows;
}

function regionMarks(frame: Frame, rows: DrivenRegion[][], rowHeight: number): Mark[] {
  const { palette, layout } = frame;
  const x = (hz: number): number => xInside(frame, hz);
  return rows.flatMap((row, k) =>
    row.flatMap((region, index) => {
      const [x1, x2] = [x(region.lowHz), x(region.highHz)];
      const y = frame.top - 6 - k * rowHeight;
      const colour = region.kind === 'limiter' ? palette.lines[1] : palette.lines[3];
      const { chart } = layout.words;
      const next = row[index + 1] ? x(row[index + 1].lowHz) - 8 : frame.layout.width;
      // no word is cut: a shorter wording where there is no room for the longer one
      const wordings = [chart.region(region.kind, region.fromDb, region.toDb), ...chart.regionShort(region.fromDb)];
      const words =
        wordings.find((text) => x1 + textWidth(text, layout.fontSize) <= next) ?? wordings[wordings.length - 1];
      const start = Math.min(x1, next - textWidth(words, layout.fontSize));
      return [
        rectMark([x1, x2], [frame.top, frame.bottom], { fill: palette.peak, z: -2 }),
        rectMark([x1, x2], [y - 2, y + 2], { fill: colour, z: 3 }),
        textMark(words, start, y - layout.fontSize * 0.75, {
          fill: colour,
          fontSize: layout.fontSize,
        }),
      ];
    }),
  );
}

/** Two strokes across, as where a drawing is broken off. */
function breakStrokes(x: number, y: number, colour: string): Mark[] {
  return [-2.5, 2.5].map((off) =>
    lineMark(
      [
        [x - 5, y + off + 2.5],
        [x + 5, y + off - 2.5],
      ],
      { stroke: colour, width: 1.8, z: 8 },
    ),
  );
}

/** Strokes between the ends of lines that do not fit each other. */
function breakMarks(frame: Frame, { lines, breaks }: LadderChartParts): Mark[] {
  return breaks.flatMap(({ lower, upper }) => {
    const ends = [lower, upper].flatMap(
      (label) => lines.find((line) => line.label === label)?.points.at(-1)?.value ?? [],
    );
    if (ends.length < 2) return [];
    const y = frame.y((ends[0] + ends[1]) / 2);
    return y > frame.top && y < frame.bottom ? breakStrokes(frame.right - 2, y, frame.palette.lines[5]) : [];
  });
}

function breakKey({ breaks }: LadderChartParts, { words }: Layout, palette: Palette): KeyItem[] {
  return breaks.map(({ lower, upper, offDb }) => ({
    text: words.chart.breakBetween(lower, upper, offDb),
    swatch: (x, y) => breakStrokes(x + KEY_SWATCH / 2, y, palette.lines[5]),
  }));
}

function unknownSwatch(palette: Palette): KeyItem['swatch'] {
  return (x, y) => [
    textMark('?', x + KEY_SWATCH / 2, y, { fill: palette.muted, fontSize: 12, anchor: 'center', bold: true }),
  ];
}
