import type { EChartsOption } from 'echarts';
import type { Interval } from '../../model/curve';
import type { BandFit } from '../../model/findings';
import { DIP_NAMES, type Dip, dipMarks } from './dipMarks';
import {
  type DrawnLine,
  endLabelMargin,
  endLabels,
  type LineStyle,
  lineKey,
  lineSeries,
  UNTRUSTED_DASH,
} from './drawnLine';
import { type Frame, frameOption, makeFrame } from './frame';
import type { Layout } from './layout';
import { type LevelRange, levelRange } from './levelRange';
import { KEY_SWATCH, rectMark } from './marks';
import { type Palette, rampIndex } from './palette';
import type { Chart, ChartBuilder } from './renderSvg';
import { touches } from './responseChart';
import { pointMarks, windowMarks } from './windowMarks';

export interface SeenChartParts {
  /** What came into a node, what went out, and what is kept to be compared with. */
  before: DrawnLine[];
  after: DrawnLine[];
  pinned: DrawnLine[];
  /** Noise runs among what went out. */
  noise: DrawnLine[];
  scale: 'spl' | 'relative';
  /** Levels are re the fundamental. */
  isHarmonic: boolean;
  rangeHz: Interval;
  fit?: BandFit;
  /** What was left out. */
  dips: Dip[];
}

/** More lines than that rise from rung to rung; fewer are told apart. */
const TOLD_APART = 6;
/** More names than that beside the lines cannot be read. */
const NAMED = 12;

/** What a node did to curves: what came in thin, what went out bold. */
export function seenChart(parts: SeenChartParts): (...given: Parameters<ChartBuilder>) => Chart & { frame: Frame } {
  return (layout, palette) => {
    const { chart } = layout.words;
    const dips = parts.dips.filter(({ maskHz }) => touches(maskHz, parts.rangeHz));
    const named = parts.after.length <= NAMED ? parts.after : [];
    const before: LineStyle = { colour: palette.axis, width: 1 };
    const pinned: LineStyle = { colour: palette.muted, width: 1.5, dash: [6, 4] };
    const noise: LineStyle = { colour: palette.muted, width: 1, dash: UNTRUSTED_DASH };
    const after = parts.after.map((_, k) => ({ colour: colourOf(k, parts.after.length, palette), width: 2.4 }));
    const frame = makeFrame(layout, palette, {
      rangeHz: parts.rangeHz,
      level: levelsOf(parts, layout),
      height: layout.height,
      title: parts.isHarmonic ? chart.harmonicAxis : chart.levelAxis(parts.scale),
      key: [
        ...(parts.before.length > 0 ? [lineKey(chart.cameIn, before)] : []),
        ...(parts.after.length > 0 ? [lineKey(chart.wentOut, after[after.length - 1])] : []),
        ...(parts.pinned.length > 0 ? [lineKey(chart.pinned, pinned)] : []),
        ...(parts.noise.length > 0 ? [lineKey(chart.noise, noise)] : []),
        ...(parts.fit ? [areaKey(chart.window(parts.fit.heightDb), palette.window, palette.windowEdge)] : []),
        ...(dips.length > 0 ? [areaKey(chart.leftOut, palette.dip)] : []),
      ],
      marginRight: endLabelMargin(
        named.map(({ label }) => label),
        layout.fontSize,
        layout.width / 4,
      ),
      marginTop: dips.length > 0 ? layout.fontSize * DIP_NAMES : 0,
    });
    const option: EChartsOption = {
      ...frameOption(frame),
      series: [
        ...parts.before.flatMap((line) => lineSeries(line, before)),
        ...parts.noise.flatMap((line) => lineSeries(line, noise)),
        ...parts.pinned.flatMap((line) => lineSeries(line, pinned)),
        ...parts.after.flatMap((line, k) => lineSeries(line, after[k])),
      ] as EChartsOption['series'],
      graphic: {
        elements: [
          ...frame.marks,
          ...dipMarks(frame, dips),
          ...(parts.fit ? [...windowMarks(frame, parts.fit), ...pointMarks(frame, parts.fit)] : []),
          ...endLabels(
            frame,
            named.flatMap(({ label, points }, k) => {
              const end = points[points.length - 1];
              return end ? [{ text: label, colour: after[k].colour, value: end.value }] : [];
            }),
          ),
        ] as never,
      },
    };
    return { option, height: frame.height, frame };
  };
}

function colourOf(k: number, count: number, palette: Palette): string {
  return count <= TOLD_APART ? palette.lines[k % palette.lines.length] : palette.ramp[rampIndex(k, count)];
}

function levelsOf(parts: SeenChartParts, { height, fontSize }: Layout): LevelRange {
  const { before, after, pinned } = parts;
  const [low, high] = parts.rangeHz;
  const counting = [...after, ...pinned, ...before];
  const inside = (counting.length > 0 ? counting : parts.noise).flatMap(({ points }) =>
    points.filter(({ hz }) => hz >= low && hz <= high).map(({ value }) => value),
  );
  return levelRange(inside, {
    ...{ mostDb: 80, leastDb: 6, stepsDb: [1, 2, 5, 10, 20] },
    // key, titles and ticks take as much as seven letters
    mostSteps: Math.max(2, Math.floor(height / fontSize / 1.8 - 4)),
  });
}

function areaKey(text: string, fill: string, stroke?: string) {
  return {
    text,
    swatch: (x: number, y: number) => [rectMark([x, x + KEY_SWATCH], [y - 6, y + 6], { fill, stroke, z: 1 })],
  };
}
