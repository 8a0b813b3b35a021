import type { EChartsOption } from 'echarts';
import type { Interval } from '../../model/curve';
import { ratioDb } from '../ratioDb';
import { type DrawnLine, type LineStyle, lineKey, lineSeries, SETTING_DASHES, untrustedKey } from './drawnLine';
import { type Frame, frameOption, makeFrame } from './frame';
import type { LevelRange } from './levelRange';
import { discMark, lineMark, type Mark, textMark } from './marks';
import type { Palette } from './palette';
import type { ChartBuilder } from './renderSvg';

/** A line in pieces: bands without a value part it. */
export interface PartedLine {
  label: string;
  pieces: DrawnLine[];
}

export interface HarmonicsChartParts {
  thd: PartedLine;
  /** Lowest order first. */
  harmonics: PartedLine[];
  /** What noise alone would read as THD. */
  noise: PartedLine;
  /** Percentages to be ruled. */
  percents: number[];
  rangeHz: Interval;
  level: LevelRange;
}

/** THD and harmonics of one run in dB re the fundamental, band by band, with chosen percentages ruled. */
export function harmonicsChart(parts: HarmonicsChartParts): ChartBuilder {
  return (layout, palette) => {
    const lines = [
      { line: parts.noise, style: { colour: palette.axis, width: 1 } },
      // The lowest order on top, and first in the key.
      ...parts.harmonics
        .map((line, k) => ({ line, style: { colour: palette.lines[k % 6], width: 1.5, dash: SETTING_DASHES[k % 6] } }))
        .reverse(),
      { line: parts.thd, style: { colour: palette.ink, width: 2.8 } },
    ].filter(({ line }) => line.pieces.length > 0);
    const frame = makeFrame(layout, palette, {
      rangeHz: parts.rangeHz,
      level: parts.level,
      title: layout.words.chart.harmonicAxis,
      marginLeft: Math.round(layout.fontSize * 3.2), // levels may lie below −99 dB
      key: [
        ...[...lines].reverse().map(({ line, style }) => lineKey(line.label, style)),
        ...untrustedKey(
          lines.flatMap(({ line }) => line.pieces),
          palette.muted,
          layout.words,
        ),
      ],
    });
    const option: EChartsOption = {
      ...frameOption(frame),
      series: lines.flatMap(({ line, style }) =>
        line.pieces.flatMap((piece) => lineSeries(piece, style)),
      ) as EChartsOption['series'],
      graphic: {
        elements: [
          ...frame.marks,
          ...percentMarks(frame, parts.percents),
          ...lines
            .filter(({ line }) => line !== parts.noise)
            .flatMap(({ line, style }) => bandMarks(frame, line, style, palette)),
        ] as never,
      },
    };
    return { option, height: frame.height };
  };
}

/** A small disc at each band, an open one where it cannot be trusted, so that a band alone is seen too. */
function bandMarks(frame: Frame, { pieces }: PartedLine, { colour, width }: LineStyle, { paper }: Palette): Mark[] {
  return pieces
    .flatMap(({ points }) => points)
    .filter(({ value }) => value >= frame.level.min)
    .map(({ hz, value, trusted }) =>
      discMark(frame.x(hz), frame.y(value), width > 2 ? 3 : 2, { colour, paper, open: !trusted }),
    );
}

/** Rules at some percentages, named at the right, where harmonics are mostly low. */
function percentMarks(frame: Frame, percents: number[]): Mark[] {
  const { palette, layout } = frame;
  return percents.flatMap((percent) => {
    const level = ratioDb(percent);
    if (!(level > frame.level.min && level < frame.level.max)) return [];
    const y = frame.y(level);
    return [
      lineMark(
        [
          [frame.left, y],
          [frame.right, y],
        ],
        { stroke: palette.axis, z: 1 },
      ),
      textMark(layout.words.figure.clean.percent(percent), frame.right - 4, y - layout.fontSize * 0.7, {
        anchor: 'right',
        fill: palette.muted,
        fontSize: layout.fontSize * 0.93,
        halo: palette.paper,
      }),
    ];
  });
}
