import type { EChartsOption } from 'echarts';
import type { Interval } from '../../model/curve';
import type { BandFit } from '../../model/findings';
import { DIP_NAMES, type Dip, dipMarks, xInside } from './dipMarks';
import { type DrawnLine, lineKey, lineSeries, SETTING_DASHES, untrustedKey } from './drawnLine';
import { type Frame, frameOption, makeFrame } from './frame';
import type { DrivenRegion } from './ladderChart';
import { fitText, type Layout, textWidth } from './layout';
import type { LevelRange } from './levelRange';
import { KEY_SWATCH, type KeyItem, lineMark, type Mark, rectMark, textMark } from './marks';
import type { Palette } from './palette';
import type { ChartBuilder } from './renderSvg';
import { touches } from './responseChart';

/** One setting in the picture that stands first. */
export interface OverviewRow {
  line: DrawnLine;
  fit?: BandFit;
  regions: DrivenRegion[];
}

export interface OverviewParts {
  rows: OverviewRow[];
  /** What was left out as the room's. */
  dips: Dip[];
  scale: 'spl' | 'relative';
  rangeHz: Interval;
  level: LevelRange;
}

/** Each setting at one drive: its line, its window, the room's dips shaded, and bars where it is limited as it plays louder. */
export function overviewChart(parts: OverviewParts): ChartBuilder {
  return (layout, palette) => {
    const dips = parts.dips.filter(({ maskHz }) => touches(maskHz, parts.rangeHz));
    const limited = parts.rows.flatMap(({ regions }, k) => (regions.length > 0 ? [k] : []));
    const fits = parts.rows.flatMap(({ fit }, k) => (fit ? [k] : []));
    const row = layout.fontSize * 1.45;
    const frame = makeFrame(layout, palette, {
      rangeHz: parts.rangeHz,
      level: parts.level,
      title: layout.words.chart.levelAxis(parts.scale),
      key: keyOf(parts, dips, layout, palette),
      marginTop: (dips.length > 0 ? layout.fontSize * DIP_NAMES : 0) + limited.length * row,
      marginBottom: fits.length * row,
      height: Math.round(layout.height * (layout.name === 'wide' ? 1 : 0.78)) + fits.length * row,
    });
    const base = frameOption(frame);
    const option: EChartsOption = {
      ...base,
      series: parts.rows.flatMap(({ line }, k) => lineSeries(line, styleOf(k, palette))) as EChartsOption['series'],
      graphic: {
        elements: [
          ...frame.marks,
          ...dipMarks(frame, dips),
          ...parts.rows.flatMap(({ fit }, k) => (fit ? windowBox(frame, fit, k) : [])),
          ...fits.flatMap((k, at) => rangeRow(frame, parts.rows[k].fit as BandFit, k, at, row)),
          ...limited.flatMap((k, at) =>
            limitRow(
              frame,
              parts.rows[k].regions,
              k,
              frame.top - (dips.length > 0 ? layout.fontSize * DIP_NAMES : 0) - 4 - at * row,
            ),
          ),
        ] as never,
      },
    };
    return { option, height: frame.height };
  };
}

function styleOf(k: number, palette: Palette): { colour: string; width: number; dash?: number[] } {
  return { colour: palette.lines[k % 6], width: 2.4, dash: SETTING_DASHES[k % 6] };
}

/** The window behind the line; an outline alone from the second setting on, so that both are seen. */
function windowBox(frame: Frame, fit: BandFit, k: number): Mark[] {
  const { palette } = frame;
  const x: [number, number] = [xInside(frame, fit.lowHz), xInside(frame, fit.highHz)];
  const y: [number, number] = [frame.y(fit.ceilingDb), frame.y(fit.floorDb)];
  return [
    ...(k === 0 ? [rectMark(x, y, { fill: palette.window, z: -2 })] : []),
    rectMark(x, y, { stroke: palette.lines[k % 6], z: 1, dash: [2, 3] }),
  ];
}

/** The range as a measured length below the axis, with its numbers. */
function rangeRow(frame: Frame, fit: BandFit, k: number, at: number, row: number): Mark[] {
  const { layout, palette } = frame;
  const { say } = layout.words;
  const stroke = palette.lines[k % 6];
  const y = frame.bottom + frame.axisHeight + row * (at + 0.4);
  const [x1, x2] = [xInside(frame, fit.lowHz), xInside(frame, fit.highHz)];
  const text = say.hzRange(fit.lowHz, fit.highHz);
  const half = textWidth(text, layout.fontSize) / 2 + 6;
  const middle = Math.min(Math.max((x1 + x2) / 2, frame.left + half), frame.right - half);
  const ends: [number, number][][] = [
    [
      [x1, y - 5],
      [x1, y + 5],
    ],
    [
      [x2, y - 5],
      [x2, y + 5],
    ],
    ...(middle - half > x1
      ? [
          [
            [x1, y],
            [middle - half, y],
          ] as [number, number][],
        ]
      : []),
    ...(middle + half < x2
      ? [
          [
            [middle + half, y],
            [x2, y],
          ] as [number, number][],
        ]
      : []),
  ];
  return [
    ...ends.map((points) => lineMark(points, { stroke, width: 1.6, z: 4 })),
    textMark(text, middle, y, { fill: stroke, fontSize: layout.fontSize, anchor: 'center', bold: true }),
  ];
}

/** Bars above the plot where a setting is limited, with the drive at which that starts. */
function limitRow(frame: Frame, regions: DrivenRegion[], k: number, y: number): Mark[] {
  const { layout, palette } = frame;
  const { chart } = layout.words;
  const fontSize = layout.fontSize * 0.93;
  const sorted = [...regions].sort((a, b) => a.lowHz - b.lowHz);
  let free = 0;
  return sorted.flatMap((region, index) => {
    const [x1, x2] = [xInside(frame, region.lowHz), xInside(frame, region.highHz)];
    const next = sorted[index + 1] ? xInside(frame, sorted[index + 1].lowHz) - 4 : frame.layout.width - 2;
    const place = (text: string): { text: string; start: number; end: number } => {
      const width = textWidth(text, fontSize);
      const start = Math.max(free, Math.min(x1, frame.layout.width - 2 - width));
      return { text, start, end: start + width };
    };
    // the key tells what a bar means; where its last band starts is told below and in the table
    const label = chart
      .regionShort(region.fromDb)
      .map(place)
      .find(({ end }) => end <= next);
    if (label) free = label.end + 6;
    return [
      rectMark([x1, Math.max(x2 - 1, x1 + 1)], [y - 3, y], { fill: palette.lines[k % 6], z: 3 }),
      ...(label
        ? [textMark(label.text, label.start, y - 3 - fontSize * 0.62, { fill: palette.lines[k % 6], fontSize })]
        : []),
    ];
  });
}

function keyOf(parts: OverviewParts, dips: Dip[], layout: Layout, palette: Palette): KeyItem[] {
  const { words } = layout;
  const { chart } = words;
  const fitted = (name: string): string => fitText(name, layout.fontSize, layout.width - KEY_SWATCH - 12);
  const heights = [...new Set(parts.rows.flatMap(({ fit }) => (fit ? [fit.heightDb] : [])))];
  const names = parts.rows.flatMap(({ line }, k) =>
    line.label ? [lineKey(fitted(line.label), styleOf(k, palette))] : [],
  );
  const box = (text: string, fill: string, stroke?: string): KeyItem => ({
    text,
    swatch: (x, y) => [
      rectMark([x, x + KEY_SWATCH], [y - 6, y + 6], { fill, stroke, dash: stroke ? [2, 3] : undefined, z: 1 }),
    ],
  });
  const bar: KeyItem = {
    text: chart.limitKey,
    swatch: (x, y) => [rectMark([x, x + KEY_SWATCH], [y - 1.5, y + 1.5], { fill: palette.muted, z: 3 })],
  };
  return [
    ...names,
    ...heights.map((height) => box(chart.window(height), palette.window, palette.muted)),
    ...(dips.length > 0 ? [box(chart.leftOut, palette.dip)] : []),
    ...(parts.rows.some(({ regions }) => regions.length > 0) ? [bar] : []),
    ...untrustedKey(
      parts.rows.map(({ line }) => line),
      palette.muted,
      words,
    ),
  ];
}
