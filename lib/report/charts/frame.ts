import type { EChartsOption } from 'echarts';
import type { Interval } from '../../model/curve';
import { logScale, type TickLabels, tickLabels, ticksIn } from './frequencyAxis';
import { FONT_FAMILY, fitText, type Layout } from './layout';
import type { LevelRange } from './levelRange';
import { type KeyItem, keyMarks, type Mark, textMark } from './marks';
import type { Palette } from './palette';

/** A chart over frequency before anything is drawn in it: where what lies, px. */
export interface Frame {
  layout: Layout;
  palette: Palette;
  height: number;
  left: number;
  right: number;
  top: number;
  bottom: number;
  rangeHz: Interval;
  level: LevelRange;
  x: (hz: number) => number;
  y: (value: number) => number;
  ticks: TickLabels;
  /** Height of labels and title below the plot, px. */
  axisHeight: number;
  /** Key and title of the upright axis. */
  marks: Mark[];
}

export interface FrameParts {
  rangeHz: Interval;
  level: LevelRange;
  /** Title of the upright axis, with its unit; written above it, where it can be read without turning the head. */
  title: string;
  key?: KeyItem[];
  /** Room to the right for the names of lines, px. */
  marginRight?: number;
  marginLeft?: number;
  /** Room between axis title and plot, px. */
  marginTop?: number;
  /** Room below the axis for more than its labels and title, px. */
  marginBottom?: number;
  height?: number;
}

/** Lay out a chart over frequency. */
export function makeFrame(layout: Layout, palette: Palette, parts: FrameParts): Frame {
  const { fontSize } = layout;
  const height = layout.isFixed ? layout.height : (parts.height ?? layout.height);
  const left = parts.marginLeft ?? Math.round(fontSize * 2.7);
  const right = layout.width - (parts.marginRight ?? Math.round(fontSize * 0.4));
  const edge = layout.width - 2;
  const key = keyMarks(parts.key ?? [], { left: 2, right: edge, top: 0 }, { fill: palette.muted, fontSize });
  const titleAt = key.height + fontSize * 0.9;
  const top = Math.round(titleAt + fontSize * 1.4 + (parts.marginTop ?? 0));
  const x = logScale(parts.rangeHz, left, right);
  const ticks = tickLabels(parts.rangeHz, x, fontSize);
  const axisHeight = Math.round(fontSize * (ticks.lowered.size > 0 ? 3.9 : 3.1));
  const bottom = height - axisHeight - (parts.marginBottom ?? 0);
  const { min, max } = parts.level;
  return {
    layout,
    palette,
    height,
    left,
    right,
    top,
    bottom,
    rangeHz: parts.rangeHz,
    level: parts.level,
    ticks,
    axisHeight,
    x,
    y: (value) => bottom - ((value - min) / (max - min)) * (bottom - top),
    marks: [
      ...key.marks,
      textMark(fitText(parts.title, fontSize, edge), 2, titleAt, { fill: palette.muted, fontSize }),
    ],
  };
}

/** Where the plot lies, exactly: without moving it to make room for labels, so that marks in px meet it. */
export function gridOption(frame: Frame): {
  left: number;
  right: number;
  top: number;
  bottom: number;
  outerBoundsMode: 'none';
} {
  return {
    left: frame.left,
    right: frame.layout.width - frame.right,
    top: frame.top,
    bottom: frame.height - frame.bottom,
    outerBoundsMode: 'none',
  };
}

/** Axes and grid of a frame as an ECharts option, to be spread into a chart's own. */
export function frameOption(frame: Frame): EChartsOption & { xAxis: object; yAxis: object } {
  const { layout } = frame;
  return {
    animation: false,
    backgroundColor: 'none',
    textStyle: { fontFamily: FONT_FAMILY, fontSize: layout.fontSize },
    grid: gridOption(frame),
    xAxis: frequencyAxisOption(frame, true),
    yAxis: levelAxisOption(frame),
  };
}

export function frequencyAxisOption(frame: Frame, labelled: boolean): object {
  const { layout, palette, rangeHz } = frame;
  const { say, chart } = layout.words;
  return {
    type: 'log',
    min: rangeHz[0],
    max: rangeHz[1],
    name: labelled ? chart.frequencyAxis : '',
    nameLocation: 'middle',
    nameGap: frame.axisHeight - layout.fontSize * 1.2,
    nameTextStyle: { color: palette.muted, fontSize: layout.fontSize },
    axisLine: { show: true, onZero: false, lineStyle: { color: palette.axis, cap: 'butt' } },
    axisTick: { show: labelled, customValues: ticksIn(rangeHz), length: 4, lineStyle: { color: palette.axis } },
    axisLabel: {
      show: labelled,
      customValues: ticksIn(rangeHz),
      color: palette.muted,
      fontSize: frame.ticks.fontSize,
      lineHeight: frame.ticks.fontSize * 1.1,
      margin: 7,
      hideOverlap: false,
      formatter: (hz: number) => `${frame.ticks.lowered.has(hz) ? '\n' : ''}${say.hertz(hz)}`,
    },
    splitLine: { show: true, lineStyle: { color: palette.grid } },
    minorTick: { show: false },
  };
}

export function levelAxisOption(frame: Frame): object {
  const { layout, palette, level } = frame;
  // in a low drawing every second or third step has room for its label
  const row = ((frame.bottom - frame.top) * level.step) / (level.max - level.min);
  const every = Math.max(1, Math.ceil((layout.fontSize * 1.1) / row));
  return {
    type: 'value',
    min: level.min,
    max: level.max,
    interval: level.step,
    axisLine: { show: false },
    axisTick: { show: false },
    axisLabel: {
      color: palette.muted,
      fontSize: layout.fontSize,
      margin: 6,
      ...(every > 1 && { customValues: stepsOf(level).filter((_, k) => k % every === 0) }),
      formatter: (value: number) => layout.words.say.short(value),
    },
    splitLine: { show: true, lineStyle: { color: palette.grid } },
  };
}

function stepsOf({ min, max, step }: LevelRange): number[] {
  return Array.from({ length: Math.round((max - min) / step) + 1 }, (_, k) => min + k * step);
}
