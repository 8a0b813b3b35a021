import { type LineStyle, SETTING_DASHES } from './drawnLine';
import type { Frame } from './frame';
import { fitText, textWidth } from './layout';
import { lineMark, type Mark, textMark } from './marks';
import type { Palette } from './palette';

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

/** Sizes of numbers to be tried before some are left out, of the usual one; the last can still be read on a phone. */
const SHRINK = [1, 0.91, 0.82];

/**
 * Draw rows under the labels of the frequency axis; where numbers have no room side by side they are smaller in all rows,
 * then only every second or third is written.
 */
export function numberRowMarks(frame: Frame, rows: NumberRow[]): Mark[] {
  const { layout } = frame;
  const row = layout.fontSize * NUMBER_ROW;
  const usual = layout.fontSize * (layout.name === 'wide' ? 0.93 : 0.9);
  const placed = rows.map(({ texts }) => texts.map(({ hz, text }) => ({ text, x: frame.x(hz) })));
  const fontSize =
    SHRINK.map((shrink) => shrink * usual).find((size) => placed.every((row) => isRoomy(row, size))) ?? usual;
  const first = frame.bottom + frame.axisHeight + row * 0.65;
  return rows.flatMap((one, k) => {
    const y = first + k * row;
    return [
      ...thinned(placed[k], fontSize).map(({ text, x }) =>
        textMark(text, x, y, { fill: one.colour, fontSize, anchor: 'center' }),
      ),
      ...(one.name ? nameMarks(frame, one, y) : []),
    ];
  });
}

/** Colour and dash of the k-th of several rows or lines. */
export function rowStyle({ palette }: Frame, k: number): LineStyle {
  return rowStyleOf(palette, k);
}

/** The same before there is a frame. */
export function rowStyleOf(palette: Palette, k: number): LineStyle {
  return { colour: palette.lines[k % 6], width: 1.5, dash: SETTING_DASHES[k % 6] };
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
    if (isRoomy(kept, fontSize)) return kept;
  }
  return texts.slice(0, 1);
}

/** Whether some texts stand side by side without touching. */
function isRoomy(texts: { text: string; x: number }[], fontSize: number): boolean {
  return texts.every(
    (one, k) =>
      k === 0 ||
      one.x - texts[k - 1].x >= (textWidth(one.text, fontSize) + textWidth(texts[k - 1].text, fontSize)) / 2 + 3,
  );
}
