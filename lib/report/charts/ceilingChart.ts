import type { EChartsOption } from 'echarts';
import type { Interval } from '../../model/curve';
import type { ReportWords } from '../../words/reportWords';
import { type Frame, frameOption, makeFrame } from './frame';
import type { LevelRange } from './levelRange';
import { discMark, KEY_SWATCH, type KeyItem, type Mark, triangleMark } from './marks';
import { NUMBER_ROW, type NumberRow, numberRowMarks, rowStyle, rowStyleOf } from './numberRows';
import type { Palette } from './palette';
import { placeNames } from './placeNames';
import type { ChartBuilder } from './renderSvg';

/** A level in each band, and whether it is the last word there. */
export interface BandLevels {
  name: string;
  /** Exact base-10 third-octave centres, Hz. */
  bandsHz: number[];
  levelDb: (number | null)[];
  /** False: at least this much. */
  reached: boolean[];
  /** True: at most this much. */
  atMost?: boolean[];
}

export interface CeilingChartParts {
  rows: BandLevels[];
  /** What a disc, an open triangle and one upside down mean. */
  words: (words: ReportWords) => { reached: string; atLeast: string; atMost?: string };
  scale: 'spl' | 'relative';
  rangeHz: Interval;
  level: LevelRange;
}

/** A level per third-octave band: discs where it was reached, joined where neighbours were, and open triangles apart for 'at least'. */
export function ceilingChart(parts: CeilingChartParts): ChartBuilder {
  return (layout, palette) => {
    const names = placeNames(
      layout,
      parts.rows.map(({ name }) => name),
      (k) => rowStyleOf(palette, k),
    );
    const row = layout.fontSize * NUMBER_ROW;
    const frame = makeFrame(layout, palette, {
      rangeHz: parts.rangeHz,
      level: parts.level,
      title: layout.words.chart.levelAxis(parts.scale),
      key: [...names.key, ...keyOf(parts, layout.words, palette)],
      marginRight: names.margin,
      marginBottom: row * (parts.rows.length + 0.6),
      height: layout.height + Math.round(row * parts.rows.length),
    });
    const option: EChartsOption = {
      ...frameOption(frame),
      series: parts.rows.map((levels, k) => levelLine(frame, levels, k)) as EChartsOption['series'],
      graphic: {
        elements: [
          ...frame.marks,
          ...parts.rows.flatMap((levels, k) =>
            pointMarks(frame, levels, palette.lines[k % 6], Math.max(3, 6 - 1.8 * k)),
          ),
          ...numberRowMarks(
            frame,
            parts.rows.map((levels, k) => numberRow(frame, names.isBeside ? levels : { ...levels, name: '' }, k)),
          ),
        ] as never,
      },
    };
    return { option, height: frame.height };
  };
}

/** Only between neighbours that were both reached: nobody knows how high a curve through 'at least' would lie. */
function levelLine(frame: Frame, { bandsHz, levelDb, reached, atMost }: BandLevels, k: number): object {
  const { colour, dash } = rowStyle(frame, k);
  return {
    type: 'line',
    silent: true,
    showSymbol: false,
    clip: true,
    emphasis: { disabled: true },
    data: bandsHz.flatMap((hz, band) =>
      inside(frame, hz) ? [[hz, (reached[band] && !atMost?.[band] ? levelDb[band] : null) ?? '-']] : [],
    ),
    lineStyle: { color: colour, width: 1.5, type: dash ?? 'solid' },
  };
}

function keyOf(parts: CeilingChartParts, reportWords: ReportWords, palette: Palette): KeyItem[] {
  const { rows } = parts;
  const words = parts.words(reportWords);
  const style = { colour: palette.muted, paper: palette.paper };
  const open = { ...style, open: true };
  const items: KeyItem[] = [
    { text: words.reached, swatch: (x, y) => [discMark(x + KEY_SWATCH / 2, y, 4.5, style)] },
    { text: words.atLeast, swatch: (x, y) => [triangleMark(x + KEY_SWATCH / 2, y, 5.5, open)] },
  ];
  if (!words.atMost || !rows.some(({ atMost }) => atMost?.some(Boolean))) return items;
  const down = { ...open, down: true };
  return [...items, { text: words.atMost, swatch: (x, y) => [triangleMark(x + KEY_SWATCH / 2, y, 5.5, down)] }];
}

/** Later rows get smaller marks, so that equal levels leave a ring of each to be seen. */
function pointMarks(frame: Frame, levels: BandLevels, colour: string, radius: number): Mark[] {
  const { bandsHz, levelDb, reached, atMost } = levels;
  const style = { colour, paper: frame.palette.paper };
  return bandsHz.flatMap((hz, band) => {
    const level = levelDb[band];
    if (level === null || !inside(frame, hz) || level < frame.level.min) return [];
    const [x, y] = [frame.x(hz), frame.y(level)];
    const open = { ...style, open: true, down: atMost?.[band] };
    return [reached[band] && !open.down ? discMark(x, y, radius, style) : triangleMark(x, y, radius + 1, open)];
  });
}

/** The numbers themselves, each below its band. */
function numberRow(frame: Frame, { name, bandsHz, levelDb, reached, atMost }: BandLevels, k: number): NumberRow {
  const decimals = frame.layout.name === 'wide' ? 1 : 0;
  const texts = bandsHz.flatMap((hz, band) => {
    const level = levelDb[band];
    if (level === null || !inside(frame, hz)) return [];
    return [
      {
        text: `${reached[band] ? (atMost?.[band] ? '≤' : '') : '≥'}${frame.layout.words.say.number(level, decimals)}`,
        hz,
      },
    ];
  });
  return { name, ...rowStyle(frame, k), texts };
}

function inside(frame: Frame, hz: number): boolean {
  return hz >= frame.rangeHz[0] && hz <= frame.rangeHz[1];
}
