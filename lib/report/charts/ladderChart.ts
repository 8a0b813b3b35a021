import type { EChartsOption } from 'echarts';
import type { Interval } from '../../model/curve';
import type { Ladder } from '../../model/findings';
import { xInside } from './dipMarks';
import { type DrawnLine, endLabelMargin, endLabels, lineSeries, untrustedKey } from './drawnLine';
import { type Frame, frameOption, levelTitle, makeFrame } from './frame';
import { fitText, textWidth } from './layout';
import type { LevelRange } from './levelRange';
import { type Mark, rectMark, textMark } from './marks';
import { rampIndex } from './palette';
import type { ChartBuilder } from './renderSvg';

export interface LadderChartParts {
  /** One line a rung, lowest first. */
  lines: DrawnLine[];
  regions: Ladder['regions'];
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
      title: levelTitle(parts.scale),
      key: untrustedKey(parts.lines, palette.muted),
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
function regionRows(regions: Ladder['regions']): Ladder['regions'][] {
  const rows: Ladder['regions'][] = [];
  for (const region of [...regions].sort((a, b) => a.lowHz - b.lowHz)) {
    const row = rows.find((one) => one[one.length - 1].highHz <= region.lowHz);
    if (row) row.push(region);
    else rows.push([region]);
  }
  return rows;
}

function regionMarks(frame: Frame, rows: Ladder['regions'][], rowHeight: number): Mark[] {
  const { palette, layout } = frame;
  const x = (hz: number): number => xInside(frame, hz);
  return rows.flatMap((row, k) =>
    row.flatMap((region, index) => {
      const [x1, x2] = [x(region.lowHz), x(region.highHz)];
      const y = frame.top - 6 - k * rowHeight;
      const colour = region.kind === 'limiter' ? palette.lines[1] : palette.lines[3];
      const words = `${region.kind === 'limiter' ? 'limits' : 'gives way'} from +${region.onsetDriveDb.toFixed(0)} dB`;
      const next = row[index + 1] ? x(row[index + 1].lowHz) - 8 : frame.layout.width;
      const start = Math.min(x1, frame.layout.width - textWidth(words, layout.fontSize));
      return [
        rectMark([x1, x2], [frame.top, frame.bottom], { fill: palette.peak, z: -2 }),
        rectMark([x1, x2], [y - 2, y + 2], { fill: colour, z: 3 }),
        textMark(fitText(words, layout.fontSize, next - start), start, y - layout.fontSize * 0.75, {
          fill: colour,
          fontSize: layout.fontSize,
        }),
      ];
    }),
  );
}
