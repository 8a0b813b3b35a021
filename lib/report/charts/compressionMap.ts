import type { EChartsOption } from 'echarts';
import type { Interval } from '../../model/curve';
import type { Ladder } from '../../model/findings';
import { bandAround } from '../../model/octaves';
import { formatNumber, formatSigned } from '../format';
import { type Cell, cellSeries, hatch } from './cells';
import { type Frame, frameOption, makeFrame } from './frame';
import { FONT_FAMILY, textWidth } from './layout';
import { type KeyItem, lineMark, type Mark, rectMark } from './marks';
import { HEAT_LIMITS_DB, heatIndex, type Palette } from './palette';
import type { ChartBuilder } from './renderSvg';
import { rungAxisOption } from './rungAxis';

/** How much of the drive is lost in each band (across) at each rung (up); what cannot be trusted is hatched. */
export function compressionMap(ladder: Ladder, rangeHz: Interval): ChartBuilder {
  return (layout, palette) => {
    const rungs = ladder.rungs.length;
    const frame = makeFrame(layout, palette, {
      rangeHz: mapRange(ladder, rangeHz),
      level: { min: -0.5, max: rungs - 0.5, step: 1 },
      title: 'Drive above the quietest run in dB',
      key: heatKey(palette),
      marginLeft: Math.round(layout.fontSize * 2.7),
      height: Math.round(
        layout.fontSize * 8 + Math.min(Math.max(rungs * layout.fontSize * 2.1, 120), layout.height * 1.4),
      ),
    });
    const cellFont = Math.round(layout.fontSize * 0.87);
    const option: EChartsOption = {
      ...frameOption(frame),
      yAxis: rungAxisOption(
        frame,
        ladder.rungs.map(({ driveDb }) => driveDb - ladder.rungs[0].driveDb),
      ),
      series: [
        cellSeries(cellsOf(ladder, palette, decimalsThatFit(ladder, cellFont, frame)), {
          fontSize: cellFont,
          fontFamily: FONT_FAMILY,
          textWidth: (text) => textWidth(text, cellFont),
        }),
      ] as EChartsOption['series'],
      graphic: { elements: frame.marks as never },
    };
    return { option, height: frame.height };
  };
}

function mapRange(ladder: Ladder, rangeHz: Interval): Interval {
  if (ladder.bandsHz.length === 0) return rangeHz;
  const low = bandAround(ladder.bandsHz[0], 3)[0];
  const high = bandAround(ladder.bandsHz[ladder.bandsHz.length - 1], 3)[1];
  return [low, high];
}

/** One decimal where every number has room for it, else none, else no numbers at all (null). */
function decimalsThatFit(ladder: Ladder, fontSize: number, frame: Frame): number | null {
  const [low, high] = bandAround(ladder.bandsHz[0], 3);
  const room = frame.x(high) - frame.x(low) - 3;
  const values = ladder.compressionDb.flatMap((row, k) =>
    row.filter((value, band) => value !== null && ladder.trusted[k][band]),
  );
  const fits = (decimals: number): boolean =>
    values.every((value) => textWidth(formatNumber(value as number, decimals), fontSize) <= room);
  return [1, 0].find(fits) ?? null;
}

function cellsOf(ladder: Ladder, palette: Palette, decimals: number | null): Cell[] {
  return ladder.rungs.flatMap((_, k) =>
    ladder.bandsHz.map((centre, band): Cell => {
      const value = ladder.compressionDb[k][band];
      const place = { hz: bandAround(centre, 3), span: [k - 0.5, k + 0.5] as [number, number], stroke: palette.paper };
      if (value === null || !ladder.trusted[k][band]) return { ...place, fill: palette.grid, hatch: palette.axis };
      const heat = heatIndex(value);
      return {
        ...place,
        fill: palette.heat[heat],
        ink: palette.heatInk[heat],
        text: decimals === null ? undefined : formatNumber(value, decimals),
      };
    }),
  );
}

function heatKey(palette: Palette): KeyItem[] {
  const box = (text: string, fill: string, more: (x: number, y: number) => Mark[] = () => []): KeyItem => ({
    text,
    swatch: (x, y) => [rectMark([x, x + 24], [y - 7, y + 7], { fill, z: 1 }), ...more(x, y)],
  });
  const [first, second, ...rest] = HEAT_LIMITS_DB;
  const names = [
    `louder than driven (below ${formatSigned(first, 1)})`,
    `in full (within ${second})`,
    ...rest.map((limit, k) => `${[second, ...rest][k]}–${limit}`),
    `above ${HEAT_LIMITS_DB[HEAT_LIMITS_DB.length - 1]} dB lost`,
  ];
  return [
    ...names.map((name, k) => box(name, palette.heat[k])),
    box('untrusted or no value', palette.grid, (x, y) =>
      hatch({ x, y: y - 7, width: 24, height: 14 }).map((ends) => lineMark(ends, { stroke: palette.axis })),
    ),
  ];
}
