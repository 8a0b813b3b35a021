import type { EChartsOption } from 'echarts';
import type { Interval } from '../../model/curve';
import { bandAround } from '../../model/octaves';
import type { Format } from '../../words/format';
import type { ReportWords } from '../../words/reportWords';
import { type Cell, cellSeries, hatch } from './cells';
import { type Frame, frameOption, makeFrame } from './frame';
import { FONT_FAMILY, textWidth } from './layout';
import { type KeyItem, lineMark, type Mark, rectMark } from './marks';
import type { Palette } from './palette';
import type { ChartBuilder } from './renderSvg';
import { rungAxisOption, rungLabels } from './rungAxis';

export interface HeatMapParts {
  /** Of the rungs, dB, as the runs name them; lowest first. */
  drivesDb: number[];
  /** Rungs whose captures are bad. */
  bad: boolean[];
  /** Exact base-10 third-octave centres, Hz. */
  bandsHz: number[];
  rangeHz: Interval;
  /** Value to be written and index of its heat colour; null where nothing can be trusted. */
  cell: (rung: number, band: number) => { value: number; heat: number } | null;
  /** Heat colour whose values are not written: the colour says enough, and the table beside the figure holds them. */
  unwritten?: number;
  /** How a value can be written, the most telling first. */
  wordings: (say: Format) => ((value: number) => string)[];
  /** What each heat colour means. */
  key: (words: ReportWords) => { text: string; heat: number }[];
}

/** A value in each third-octave band (across) at each rung (up); what cannot be trusted is hatched. */
export function heatMap(parts: HeatMapParts): ChartBuilder {
  return (layout, palette) => {
    const rungs = parts.drivesDb.length;
    const labels = rungLabels(layout.words, parts.drivesDb, parts.bad);
    const labelWidth = Math.max(...labels.map((label) => textWidth(label, layout.fontSize))) + 8;
    const frame = makeFrame(layout, palette, {
      rangeHz: parts.rangeHz,
      level: { min: -0.5, max: rungs - 0.5, step: 1 },
      title: layout.words.chart.driveAxis(parts.bad.some(Boolean)),
      key: heatKey(parts, layout.words, palette),
      marginLeft: Math.round(Math.max(labelWidth, layout.fontSize * 2.7)),
      height: Math.round(
        layout.fontSize * 8 + Math.min(Math.max(rungs * layout.fontSize * 2.1, 120), layout.height * 1.4),
      ),
    });
    const cellFont = Math.round(layout.fontSize * 0.87);
    const option: EChartsOption = {
      ...frameOption(frame),
      yAxis: rungAxisOption(frame, labels),
      series: [
        cellSeries(cellsOf(parts, palette, wordingThatFits(parts, cellFont, frame)), {
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

/** From the lower edge of the lowest of some bands to the upper edge of the highest, so that maps of the same bands line up. */
export function bandEdges(bandsHz: number[], otherwise: Interval): Interval {
  if (bandsHz.length === 0) return otherwise;
  return [bandAround(Math.min(...bandsHz), 3)[0], bandAround(Math.max(...bandsHz), 3)[1]];
}

/** The first wording that every number has room for; null where none has. */
function wordingThatFits(parts: HeatMapParts, fontSize: number, frame: Frame): ((value: number) => string) | null {
  const [low, high] = bandAround(parts.bandsHz[0], 3);
  const room = frame.x(high) - frame.x(low) - 3;
  const values = allCells(parts).flatMap((cell) => (cell && cell.heat !== parts.unwritten ? [cell.value] : []));
  const fits = (wording: (value: number) => string): boolean =>
    values.every((value) => textWidth(wording(value), fontSize) <= room);
  return parts.wordings(frame.layout.words.say).find(fits) ?? null;
}

function allCells({ drivesDb, bandsHz, cell }: HeatMapParts): ReturnType<HeatMapParts['cell']>[] {
  return drivesDb.flatMap((_, k) => bandsHz.map((_, band) => cell(k, band)));
}

function cellsOf(parts: HeatMapParts, palette: Palette, wording: ((value: number) => string) | null): Cell[] {
  return parts.drivesDb.flatMap((_, k) =>
    parts.bandsHz.map((centre, band): Cell => {
      const cell = parts.cell(k, band);
      const place = { hz: bandAround(centre, 3), span: [k - 0.5, k + 0.5] as [number, number], stroke: palette.paper };
      if (cell === null) return { ...place, fill: palette.grid, hatch: palette.axis };
      return {
        ...place,
        fill: palette.heat[cell.heat],
        ink: palette.heatInk[cell.heat],
        text: cell.heat === parts.unwritten ? undefined : wording?.(cell.value),
      };
    }),
  );
}

/** What the colours that are in use mean. */
function heatKey(parts: HeatMapParts, words: ReportWords, palette: Palette): KeyItem[] {
  const cells = allCells(parts);
  const used = parts.key(words).filter(({ heat }) => cells.some((cell) => cell?.heat === heat));
  const box = (text: string, fill: string, more: (x: number, y: number) => Mark[] = () => []): KeyItem => ({
    text,
    swatch: (x, y) => [rectMark([x, x + 24], [y - 7, y + 7], { fill, z: 1 }), ...more(x, y)],
  });
  return [
    ...used.map(({ text, heat }) => box(text, palette.heat[heat])),
    ...(cells.includes(null)
      ? [
          box(words.chart.untrustedCell, palette.grid, (x, y) =>
            hatch({ x, y: y - 7, width: 24, height: 14 }).map((ends) => lineMark(ends, { stroke: palette.axis })),
          ),
        ]
      : []),
  ];
}
