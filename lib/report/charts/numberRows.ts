import { SETTING_DASHES } from './drawnLine';
import type { Frame } from './frame';
import { fitText, textWidth } from './layout';
import { lineMark, type Mark, textMark } from './marks';

/** A row of short texts under the axis, each below its frequency. */
export interface NumberRow {
  /** At the end of the row; empty: none. */
  name: string;
  colour: string;
  dash?: number[];
  texts: { hz: number; text: string }[];
  /** No line beside the name. */
  bare?: boolean;
}

/** Height of one row in letter heights. */
export const NUMBER_ROW = 1.35;

/** Draw rows under the labels of the frequency axis; where numbers have no room side by side, every second or third. */
export function numberRowMarks(frame: Frame, rows: NumberRow[]): Mark[] {
  const { layout } = frame;
  const row = layout.fontSize * NUMBER_ROW;
  const fontSize = layout.fontSize * (layout.name === 'wide' ? 0.93 : 0.9);
  const first = frame.bottom + frame.axisHeight + row * 0.4;
  return rows.flatMap((one, k) => {
    const y = first + k * row;
    const texts = one.texts.map(({ hz, text }) => ({ text, x: frame.x(hz) }));
    return [
      ...thinned(texts, fontSize).map(({ text, x }) =>
        textMark(text, x, y, { fill: one.colour, fontSize, anchor: 'center' }),
      ),
      ...(one.name ? nameMarks(frame, one, y) : []),
    ];
  });
}

/** Colour and dash of the k-th of several rows or lines. */
export function rowStyle({ palette }: Frame, k: number): { colour: string; dash?: number[] } {
  return { colour: palette.lines[k % 6], dash: SETTING_DASHES[k % 6] };
}

/** Name at the end of its row, with a piece of its line. */
function nameMarks(frame: Frame, { name, colour, dash, bare }: NumberRow, y: number): Mark[] {
  const { layout } = frame;
  const start = frame.right + 4;
  const text = start + (bare ? 0 : 18);
  const piece: [number, number][] = [
    [start, y],
    [start + 14, y],
  ];
  return [
    ...(bare ? [] : [lineMark(piece, { stroke: colour, width: 1.5, dash })]),
    textMark(fitText(name, layout.fontSize, layout.width - text), text, y, {
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
