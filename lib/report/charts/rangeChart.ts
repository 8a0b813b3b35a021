import type { EChartsOption } from 'echarts';
import { isDoubted } from '../../model/caveat';
import type { Interval } from '../../model/curve';
import type { BandFit } from '../../model/findings';
import type { ReportWords } from '../../words/reportWords';
import { type Cell, cellSeries } from './cells';
import { xInside } from './dipMarks';
import { type Frame, frameOption, makeFrame } from './frame';
import { FONT_FAMILY, textWidth } from './layout';
import { KEY_SWATCH, type KeyItem, type Mark, rectMark, textMark } from './marks';
import type { Palette } from './palette';
import type { ChartBuilder } from './renderSvg';
import { rungAxisOption, rungLabels } from './rungAxis';

export interface RangeChartParts {
  /** Lowest drive first. */
  rungs: { driveDb: number; fit: BandFit }[];
  heightDb: number;
  rangeHz: Interval;
}

/** The range that each rung holds inside the window: narrower upwards where the curve bends as it plays louder. */
export function rangeChart(parts: RangeChartParts): ChartBuilder {
  return (layout, palette) => {
    const count = parts.rungs.length;
    const frame = makeFrame(layout, palette, {
      rangeHz: parts.rangeHz,
      level: { min: -0.5, max: count - 0.5, step: 1 },
      title: layout.words.chart.driveAxis(false),
      key: keyOf(parts, layout.words, palette),
      height: Math.round(layout.fontSize * 7 + Math.min(Math.max(count * layout.fontSize * 1.7, 60), layout.height)),
    });
    const option: EChartsOption = {
      ...frameOption(frame),
      yAxis: rungAxisOption(
        frame,
        rungLabels(
          layout.words,
          parts.rungs.map(({ driveDb }) => driveDb),
        ),
      ),
      series: [
        cellSeries(cellsOf(parts, frame), {
          fontSize: layout.fontSize * 0.93,
          fontFamily: FONT_FAMILY,
          textWidth: (text) => textWidth(text, layout.fontSize * 0.93),
        }),
      ] as EChartsOption['series'],
      graphic: { elements: [...frame.marks, ...outsideTexts(frame, parts)] as never },
    };
    return { option, height: frame.height };
  };
}

/** Ranges of bars too short to hold them, beside the bar on the side with more room. */
function outsideTexts(frame: Frame, { rungs }: RangeChartParts): Mark[] {
  const { layout, palette } = frame;
  const fontSize = layout.fontSize * 0.93;
  return rungs.flatMap(({ fit }, k) => {
    const [left, right] = [xInside(frame, fit.lowHz), xInside(frame, fit.highHz)];
    const text = layout.words.say.hzRange(fit.lowHz, fit.highHz);
    if (textWidth(text, fontSize) <= right - left - 3) return [];
    const toRight = frame.right - right > left - frame.left;
    return [
      textMark(text, toRight ? right + 5 : left - 5, frame.y(k), {
        fill: palette.ink,
        fontSize,
        anchor: toRight ? 'left' : 'right',
      }),
    ];
  });
}

function cellsOf({ rungs }: RangeChartParts, { palette, rangeHz, layout }: Frame): Cell[] {
  return rungs.map(({ fit }, k): Cell => {
    const untrusted = isDoubted(fit);
    return {
      hz: [Math.max(fit.lowHz, rangeHz[0]), Math.min(fit.highHz, rangeHz[1])],
      span: [k - 0.38, k + 0.38],
      fill: untrusted ? palette.paper : palette.window,
      stroke: palette.windowEdge,
      hatch: untrusted ? palette.grid : undefined,
      text: layout.words.say.hzRange(fit.lowHz, fit.highHz),
      ink: palette.ink,
    };
  });
}

function keyOf({ rungs, heightDb }: RangeChartParts, { chart }: ReportWords, palette: Palette): KeyItem[] {
  const box = (text: string, fill: string): KeyItem => ({
    text,
    swatch: (x, y) => [rectMark([x, x + KEY_SWATCH], [y - 6, y + 6], { fill, stroke: palette.windowEdge, z: 1 })],
  });
  const some = rungs.some(({ fit }) => isDoubted(fit));
  return [box(chart.window(heightDb), palette.window), ...(some ? [box(chart.untrusted, palette.paper)] : [])];
}
