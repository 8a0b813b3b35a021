import type { EChartsOption } from 'echarts';
import type { Interval } from '../../model/curve';
import type { Ladder } from '../../model/findings';
import { formatNumber } from '../format';
import { endLabelMargin, SETTING_DASHES } from './drawnLine';
import { type Frame, frameOption, levelTitle, makeFrame } from './frame';
import { fitText, textWidth } from './layout';
import type { LevelRange } from './levelRange';
import { discMark, KEY_SWATCH, type KeyItem, lineMark, type Mark, textMark, triangleMark } from './marks';
import type { Palette } from './palette';
import type { ChartBuilder } from './renderSvg';

export interface CeilingChartParts {
  ladders: { name: string; ladder: Ladder }[];
  scale: 'spl' | 'relative';
  rangeHz: Interval;
  level: LevelRange;
}

/** Loudest trusted level per third-octave band: discs where it would go no louder, open triangles for 'at least'. */
export function ceilingChart(parts: CeilingChartParts): ChartBuilder {
  return (layout, palette) => {
    const names = parts.ladders.map(({ name }) => name);
    const row = layout.fontSize * 1.35;
    const frame = makeFrame(layout, palette, {
      rangeHz: parts.rangeHz,
      level: parts.level,
      title: levelTitle(parts.scale),
      key: keyOf(palette),
      marginRight: names.some(Boolean) ? endLabelMargin(names, layout.fontSize, layout.width / 4) : undefined,
      marginBottom: row * (parts.ladders.length + 0.6),
      height: layout.height + Math.round(row * parts.ladders.length),
    });
    const option: EChartsOption = {
      ...frameOption(frame),
      series: parts.ladders.map(({ ladder }, k) => ({
        type: 'line',
        silent: true,
        showSymbol: false,
        clip: true,
        emphasis: { disabled: true },
        data: ladder.bandsHz.flatMap((hz, band) =>
          inside(frame, hz) ? [[hz, ladder.ceiling.levelDb[band] ?? '-']] : [],
        ),
        lineStyle: { color: palette.lines[k % 6], width: 1.5, type: SETTING_DASHES[k % 6] ?? 'solid' },
      })) as EChartsOption['series'],
      graphic: {
        elements: [
          ...frame.marks,
          ...parts.ladders.flatMap(({ ladder }, k) =>
            pointMarks(frame, ladder, palette.lines[k % 6], Math.max(3, 6 - 1.8 * k)),
          ),
          ...numberRows(frame, parts.ladders, row),
        ] as never,
      },
    };
    return { option, height: frame.height };
  };
}

function keyOf(palette: Palette): KeyItem[] {
  const style = { colour: palette.muted, paper: palette.paper };
  return [
    { text: 'limit reached', swatch: (x, y) => [discMark(x + KEY_SWATCH / 2, y, 4.5, style)] },
    {
      text: 'at least: no limit met',
      swatch: (x, y) => [triangleMark(x + KEY_SWATCH / 2, y, 5.5, { ...style, open: true })],
    },
  ];
}

/** Later settings get smaller marks, so that equal levels leave a ring of each to be seen. */
function pointMarks(frame: Frame, ladder: Ladder, colour: string, radius: number): Mark[] {
  const style = { colour, paper: frame.palette.paper };
  return ladder.bandsHz.flatMap((hz, band) => {
    const level = ladder.ceiling.levelDb[band];
    if (level === null || !inside(frame, hz) || level < frame.level.min) return [];
    const [x, y] = [frame.x(hz), frame.y(level)];
    return [
      ladder.ceiling.reached[band]
        ? discMark(x, y, radius, style)
        : triangleMark(x, y, radius + 1, { ...style, open: true }),
    ];
  });
}

/** The numbers themselves, a row a setting under the axis, each below its band. */
function numberRows(frame: Frame, ladders: CeilingChartParts['ladders'], row: number): Mark[] {
  const { layout, palette } = frame;
  const fontSize = layout.fontSize * (layout.name === 'wide' ? 0.93 : 0.9);
  const first = frame.bottom + layout.fontSize * 3.1 + row * 0.4;
  const decimals = layout.name === 'wide' ? 1 : 0;
  return ladders.flatMap(({ name, ladder }, k) => {
    const y = first + k * row;
    const colour = palette.lines[k % 6];
    const texts = ladder.bandsHz.flatMap((hz, band) => {
      const level = ladder.ceiling.levelDb[band];
      if (level === null || !inside(frame, hz)) return [];
      const text = `${ladder.ceiling.reached[band] ? '' : '≥'}${formatNumber(level, decimals)}`;
      return [{ text, x: frame.x(hz) }];
    });
    const kept = thinned(texts, fontSize);
    return [
      ...kept.map(({ text, x }) => textMark(text, x, y, { fill: colour, fontSize, anchor: 'center' })),
      ...(name ? nameMarks(frame, name, y, k) : []),
    ];
  });
}

/** Name of a setting at the end of its row, with a piece of its line. */
function nameMarks(frame: Frame, name: string, y: number, k: number): Mark[] {
  const { layout, palette } = frame;
  const colour = palette.lines[k % 6];
  const start = frame.right + 4;
  return [
    lineMark(
      [
        [start, y],
        [start + 14, y],
      ],
      { stroke: colour, width: 1.5, dash: SETTING_DASHES[k % 6] },
    ),
    textMark(fitText(name, layout.fontSize, layout.width - start - 18), start + 18, y, {
      fill: colour,
      fontSize: layout.fontSize,
    }),
  ];
}

/** All numbers where they fit side by side, else every second or third. */
function thinned<T extends { text: string; x: number }>(texts: T[], fontSize: number): T[] {
  for (let every = 1; every < texts.length; every++) {
    const kept = texts.filter((_, k) => k % every === 0);
    const fits = kept.every(
      (one, k) =>
        k === 0 ||
        one.x - kept[k - 1].x >= (textWidth(one.text, fontSize) + textWidth(kept[k - 1].text, fontSize)) / 2 + 3,
    );
    if (fits) return kept;
  }
  return texts.slice(0, 1);
}

function inside(frame: Frame, hz: number): boolean {
  return hz >= frame.rangeHz[0] && hz <= frame.rangeHz[1];
}
