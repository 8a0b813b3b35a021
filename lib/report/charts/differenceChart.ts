import type { EChartsOption } from 'echarts';
import type { Interval } from '../../model/curve';
import type { SettingDifference } from '../../model/findings';
import { type DrawnLine, lineSeries, untrustedKey } from './drawnLine';
import { type Frame, frameOption, makeFrame } from './frame';
import { textWidth } from './layout';
import type { LevelRange } from './levelRange';
import { discMark, lineMark, type Mark, textMark } from './marks';
import type { ChartBuilder } from './renderSvg';
import { stackLabels } from './stackLabels';

export interface DifferenceChartParts {
  line: DrawnLine;
  difference: SettingDifference;
  rangeHz: Interval;
  level: LevelRange;
}

/** What a switch changes over frequency, with its hinge and the values at the usual low frequencies. */
export function differenceChart(parts: DifferenceChartParts): ChartBuilder {
  return (layout, palette) => {
    const frame = makeFrame(layout, palette, {
      rangeHz: parts.rangeHz,
      level: parts.level,
      title: layout.words.chart.differenceAxis,
      key: untrustedKey([parts.line], palette.muted, layout.words),
      marginBottom: parts.difference.at.length > 0 ? layout.fontSize * 1.6 : 0,
      height: Math.round(layout.height * 0.85),
    });
    const option: EChartsOption = {
      ...frameOption(frame),
      series: lineSeries(parts.line, { colour: palette.lines[0], width: 2.5 }) as EChartsOption['series'],
      graphic: {
        elements: [
          ...frame.marks,
          lineMark(
            [
              [frame.left, frame.y(0)],
              [frame.right, frame.y(0)],
            ],
            { stroke: palette.axis, z: 1 },
          ),
          ...hingeMarks(frame, parts.difference),
          ...valueMarks(frame, parts.difference),
        ] as never,
      },
    };
    return { option, height: frame.height };
  };
}

function hingeMarks(frame: Frame, { hingeHz }: SettingDifference): Mark[] {
  if (hingeHz === null || hingeHz < frame.rangeHz[0] || hingeHz > frame.rangeHz[1]) return [];
  const { palette, layout } = frame;
  const x = frame.x(hingeHz);
  const text = layout.words.chart.hinge(hingeHz);
  const room = x + 6 + textWidth(text, layout.fontSize) < frame.right;
  return [
    lineMark(
      [
        [x, frame.top],
        [x, frame.bottom],
      ],
      { stroke: palette.lines[1], width: 1.5, dash: [6, 4], z: 1 },
    ),
    textMark(text, room ? x + 6 : x - 6, frame.top + layout.fontSize * 0.8, {
      fill: palette.lines[1],
      fontSize: layout.fontSize,
      bold: true,
      anchor: room ? 'left' : 'right',
      halo: palette.paper,
    }),
  ];
}

/** Discs at the tabulated frequencies, open where untrusted; the numbers in a row under the axis. */
function valueMarks(frame: Frame, { at }: SettingDifference): Mark[] {
  const { palette, layout } = frame;
  const shown = at
    .filter(({ frequencyHz }) => frequencyHz >= frame.rangeHz[0] && frequencyHz <= frame.rangeHz[1])
    .sort((a, b) => a.frequencyHz - b.frequencyHz);
  const texts = shown.map(({ differenceDb, trusted }) =>
    trusted ? layout.words.say.signed(differenceDb, 1) : `(${layout.words.say.signed(differenceDb, 1)})`,
  );
  const gap = Math.max(0, ...texts.map((text) => textWidth(text, layout.fontSize))) + 4;
  const places = stackLabels(
    shown.map(({ frequencyHz }) => frame.x(frequencyHz)),
    gap,
    gap / 2,
    layout.width - gap / 2,
  );
  const row = frame.bottom + frame.axisHeight + layout.fontSize * 0.9;
  return shown.flatMap(({ frequencyHz, differenceDb, trusted }, k) => {
    const y = Math.min(Math.max(frame.y(differenceDb), frame.top), frame.bottom);
    return [
      discMark(frame.x(frequencyHz), y, 4.5, { colour: palette.lines[0], paper: palette.paper, open: !trusted }),
      textMark(texts[k], places[k], row, {
        fill: trusted ? palette.lines[0] : palette.muted,
        fontSize: layout.fontSize,
        anchor: 'center',
        bold: trusted,
      }),
    ];
  });
}
