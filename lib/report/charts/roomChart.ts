import type { EChartsOption } from 'echarts';
import { isOfRoom } from '../../analysis/conclusions/isOfRoom';
import type { Interval } from '../../model/curve';
import type { RoomFeature } from '../../model/findings';
import type { ReportWords } from '../../words/reportWords';
import { DIP_NAMES, dipMarks, xInside } from './dipMarks';
import { type DrawnLine, endLabels, lineSeries, SETTING_DASHES, untrustedKey } from './drawnLine';
import { type Frame, frameOption, frequencyAxisOption, gridOption, levelAxisOption, makeFrame } from './frame';
import { textWidth } from './layout';
import type { LevelRange } from './levelRange';
import { KEY_SWATCH, type KeyItem, lineMark, type Mark, rectMark, textMark, triangleMark } from './marks';
import type { Palette } from './palette';
import { placeNames } from './placeNames';
import type { ChartBuilder } from './renderSvg';
import { valueAt } from './valueAt';

export interface RoomChartParts {
  seen: DrawnLine[];
  predicted?: DrawnLine;
  features: RoomFeature[];
  scale: 'spl' | 'relative';
  rangeHz: Interval;
  level: LevelRange;
  predictedLevel: LevelRange;
}

/** What was seen above what the room alone would do, on one frequency axis, dips and peaks marked through both. */
export function roomChart(parts: RoomChartParts): ChartBuilder {
  return (layout, palette) => {
    const { predicted } = parts;
    const style = (k: number) => ({ colour: palette.lines[k % 6], width: 1.8, dash: SETTING_DASHES[k % 6] });
    const names = placeNames(
      layout,
      parts.seen.map((line) => line.label),
      style,
    );
    const { chart } = layout.words;
    const shown = parts.features.filter(({ frequencyHz }) => inside(parts.rangeHz, frequencyHz));
    const dips = shown.filter((feature) => feature.kind === 'dip' && isOfRoom(feature));
    const others = shown.filter((feature) => feature.kind === 'dip' && !isOfRoom(feature));
    const frame = makeFrame(layout, palette, {
      rangeHz: parts.rangeHz,
      level: parts.level,
      title: chart.seenAxis(chart.levelAxis(parts.scale)),
      key: [...names.key, ...keyOf({ ...parts, features: shown }, layout.words, palette)],
      marginRight: names.margin,
      marginTop: dips.length > 0 ? layout.fontSize * DIP_NAMES : 0,
      height: Math.round(layout.height * (predicted ? 1.35 : 1)),
    });
    const upper = predicted ? split(frame, 0.56) : frame;
    const lower = predicted ? below(frame, upper, parts.predictedLevel) : undefined;
    const base = frameOption(upper);
    const option: EChartsOption = {
      ...base,
      grid: [upper, lower].flatMap((part) => (part ? [gridOption(part)] : [])),
      xAxis: [
        frequencyAxisOption(upper, !lower),
        ...(lower ? [{ ...frequencyAxisOption(lower, true), gridIndex: 1 }] : []),
      ] as EChartsOption['xAxis'],
      yAxis: [base.yAxis, ...(lower ? [{ ...levelAxisOption(lower), gridIndex: 1 }] : [])] as EChartsOption['yAxis'],
      series: [
        ...parts.seen.flatMap((line, k) => lineSeries(line, style(k))),
        ...(predicted
          ? lineSeries(predicted, { colour: palette.ink, width: 1.8 }).map((one) => ({
              ...one,
              xAxisIndex: 1,
              yAxisIndex: 1,
            }))
          : []),
      ] as EChartsOption['series'],
      graphic: {
        elements: [
          ...frame.marks,
          ...dipMarks(upper, dips),
          ...(lower ? lowerMarks(lower, upper, dips) : []),
          ...peakMarks(upper, shown),
          ...otherDipMarks(upper, others),
          ...causeMarks(upper, shown, parts.seen),
          ...(lower ? predictionMarks(lower, shown) : []),
          ...(names.isBeside
            ? endLabels(
                upper,
                parts.seen.flatMap((line, k) => {
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

function split(frame: Frame, share: number): Frame {
  const bottom = frame.top + (frame.bottom - frame.top) * share - frame.layout.fontSize;
  return { ...frame, bottom, y: scale(frame.level, frame.top, bottom) };
}

function below(frame: Frame, upper: Frame, level: LevelRange): Frame {
  const top = upper.bottom + frame.layout.fontSize * 2.4;
  return { ...frame, top, level, y: scale(level, top, frame.bottom) };
}

function scale({ min, max }: LevelRange, top: number, bottom: number): (value: number) => number {
  return (value) => bottom - ((value - min) / (max - min)) * (bottom - top);
}

function lowerMarks(lower: Frame, upper: Frame, dips: RoomFeature[]): Mark[] {
  const { palette, layout } = lower;
  return [
    textMark(layout.words.chart.predictedAxis, 2, upper.bottom + layout.fontSize * 1.2, {
      fill: palette.muted,
      fontSize: layout.fontSize,
    }),
    ...dips.map((dip) => {
      const x = dip.maskHz.map((hz) => xInside(lower, hz));
      return rectMark([x[0], x[1]], [lower.top, lower.bottom], { fill: palette.dip });
    }),
  ];
}

function peakMarks(upper: Frame, features: RoomFeature[]): Mark[] {
  const { palette } = upper;
  return features
    .filter((feature) => feature.kind === 'peak')
    .map((feature) =>
      triangleMark(upper.x(feature.frequencyHz), upper.bottom - 7, 5, {
        colour: palette.muted,
        paper: palette.paper,
        open: !isOfRoom(feature),
      }),
    );
}

/** What a dip or peak comes from, written upright over its frequency where a wide drawing has room for it below the curves. */
function causeMarks(upper: Frame, features: RoomFeature[], seen: DrawnLine[]): Mark[] {
  const { layout, palette } = upper;
  if (layout.name !== 'wide') return [];
  const fontSize = layout.fontSize * 0.86;
  let free = Number.NEGATIVE_INFINITY;
  return [...features]
    .sort((a, b) => a.frequencyHz - b.frequencyHz)
    .flatMap((feature) => {
      const text = layout.words.chart.cause(feature.cause);
      const x = upper.x(feature.frequencyHz);
      // above the mark of a peak, and the frequency of a dip that is not shown to be the room's
      const isShaded = feature.kind === 'dip' && isOfRoom(feature);
      const foot = upper.bottom - (feature.kind === 'peak' ? 16 : isShaded ? 5 : 34);
      const levels = seen.flatMap((line) => valueAt(line, feature.frequencyHz) ?? []);
      const curve = Math.max(upper.top, ...levels.map((level) => upper.y(level)));
      if (text === '' || x < free || foot - textWidth(text, fontSize) < curve + 3) return [];
      free = x + fontSize * 1.2;
      const style = { fill: palette.muted, fontSize, halo: isShaded ? palette.dip : palette.paper };
      return [{ ...textMark(text, x, foot, style), rotation: Math.PI / 2, z: 2 }];
    });
}

/** Dips that are not shown to be the room's: an open triangle and the frequency, no shade. */
function otherDipMarks(upper: Frame, dips: RoomFeature[]): Mark[] {
  const { palette, layout } = upper;
  return dips.flatMap((dip) => [
    triangleMark(upper.x(dip.frequencyHz), upper.bottom - 7, 5, {
      colour: palette.muted,
      paper: palette.paper,
      open: true,
      down: true,
    }),
    textMark(layout.words.say.hertz(dip.frequencyHz), upper.x(dip.frequencyHz), upper.bottom - 22, {
      fill: palette.muted,
      fontSize: layout.fontSize * 0.9,
      anchor: 'center',
      halo: palette.paper,
    }),
  ]);
}

/** Small strokes on the lower edge where the prediction has the feature that was seen. */
function predictionMarks(lower: Frame, features: RoomFeature[]): Mark[] {
  return features.flatMap(({ cause }) =>
    cause.predictedHz === undefined || !inside(lower.rangeHz, cause.predictedHz)
      ? []
      : [
          lineMark(
            [
              [lower.x(cause.predictedHz), lower.bottom - 12],
              [lower.x(cause.predictedHz), lower.bottom],
            ],
            { stroke: lower.palette.lines[1], width: 3, z: 5 },
          ),
        ],
  );
}

function keyOf(parts: RoomChartParts, words: ReportWords, palette: Palette): KeyItem[] {
  const has = (test: (feature: RoomFeature) => boolean): boolean => parts.features.some(test);
  const items: KeyItem[] = [];
  const { chart } = words;
  const style = { colour: palette.muted, paper: palette.paper };
  const mark = (text: string, more: { open?: boolean; down?: boolean }): KeyItem => ({
    text,
    swatch: (x, y) => [triangleMark(x + KEY_SWATCH / 2, y, 5, { ...style, ...more })],
  });
  if (has((feature) => feature.kind === 'dip' && isOfRoom(feature))) {
    items.push({
      text: chart.roomDip,
      swatch: (x, y) => [rectMark([x, x + KEY_SWATCH], [y - 6, y + 6], { fill: palette.dip, z: 1 })],
    });
  }
  if (has((feature) => feature.kind === 'dip' && !isOfRoom(feature)))
    items.push(mark(chart.otherDip, { open: true, down: true }));
  if (has((feature) => feature.kind === 'peak' && isOfRoom(feature))) items.push(mark(chart.roomPeak, {}));
  if (has((feature) => feature.kind === 'peak' && !isOfRoom(feature)))
    items.push(mark(chart.otherPeak, { open: true }));
  if (parts.predicted && has(({ cause }) => cause.predictedHz !== undefined)) {
    items.push({
      text: words.chart.predictedAt,
      swatch: (x, y) => [
        lineMark(
          [
            [x + KEY_SWATCH / 2, y - 6],
            [x + KEY_SWATCH / 2, y + 6],
          ],
          { stroke: palette.lines[1], width: 3 },
        ),
      ],
    });
  }
  return [...items, ...untrustedKey(parts.seen, palette.muted, words)];
}

function inside([low, high]: Interval, hz: number): boolean {
  return hz >= low && hz <= high;
}
