import { FONT_FAMILY, textWidth } from './layout';

/** One element of ECharts' graphic component, in px of the drawing. */
export type Mark = Record<string, unknown>;

export type Anchor = 'left' | 'center' | 'right';

export interface TextStyle {
  fill: string;
  fontSize: number;
  anchor?: Anchor;
  bold?: boolean;
  /** Colour drawn around the letters so that lines behind them do not run into them. */
  halo?: string;
}

/** A line of text, its middle height at y. */
export function textMark(text: string, x: number, y: number, style: TextStyle): Mark {
  return {
    type: 'text',
    x,
    y,
    z: 9,
    silent: true,
    style: {
      text,
      fill: style.fill,
      fontSize: style.fontSize,
      fontFamily: FONT_FAMILY,
      fontWeight: style.bold ? 600 : 400,
      textAlign: style.anchor ?? 'left',
      textVerticalAlign: 'middle',
      ...(style.halo && { stroke: style.halo, lineWidth: 4 }),
    },
  };
}

/** An area behind everything. */
export function rectMark(
  [x1, x2]: [number, number],
  [y1, y2]: [number, number],
  style: { fill?: string; stroke?: string; dash?: number[]; z?: number },
): Mark {
  return {
    type: 'rect',
    z: style.z ?? -1,
    silent: true,
    shape: { x: Math.min(x1, x2), y: Math.min(y1, y2), width: Math.abs(x2 - x1), height: Math.abs(y2 - y1) },
    style: {
      fill: style.fill ?? 'none',
      ...(style.stroke && { stroke: style.stroke, lineWidth: 1, lineDash: style.dash }),
    },
  };
}

/** A line through points. */
export function lineMark(
  points: [number, number][],
  style: { stroke: string; width?: number; dash?: number[]; z?: number },
): Mark {
  return {
    type: 'polyline',
    z: style.z ?? 3,
    silent: true,
    shape: { points },
    style: { stroke: style.stroke, lineWidth: style.width ?? 1, lineDash: style.dash, fill: 'none' },
  };
}

/** A filled disc, or an open ring where `open`. */
export function discMark(
  x: number,
  y: number,
  radius: number,
  style: { colour: string; paper: string; open?: boolean },
): Mark {
  return {
    type: 'circle',
    z: 6,
    silent: true,
    shape: { cx: x, cy: y, r: radius },
    style: { fill: style.open ? style.paper : style.colour, stroke: style.colour, lineWidth: 1.5 },
  };
}

/** A triangle with its point up (an open one: 'at least') or down. */
export function triangleMark(
  x: number,
  y: number,
  radius: number,
  style: { colour: string; paper: string; open?: boolean; down?: boolean },
): Mark {
  const up = style.down ? -1 : 1;
  return {
    type: 'polygon',
    z: 6,
    silent: true,
    shape: {
      points: [
        [x, y - up * radius * 1.15],
        [x + radius * 1.05, y + up * radius * 0.75],
        [x - radius * 1.05, y + up * radius * 0.75],
      ],
    },
    style: { fill: style.open ? style.paper : style.colour, stroke: style.colour, lineWidth: 1.5 },
  };
}

/** What a key explains: how it looks and what it means. */
export interface KeyItem {
  text: string;
  swatch: (x: number, y: number) => Mark[];
}

export const KEY_SWATCH = 24;

/** Rows of key items, wrapped to a width: the marks and how high they stand. */
export function keyMarks(
  items: KeyItem[],
  box: { left: number; right: number; top: number },
  style: { fill: string; fontSize: number },
): { marks: Mark[]; height: number } {
  const row = Math.round(style.fontSize * 1.6);
  const marks: Mark[] = [];
  let x = box.left;
  let y = box.top + row / 2;
  for (const item of items) {
    const width = KEY_SWATCH + 6 + textWidth(item.text, style.fontSize) + 16;
    if (x > box.left && x + width - 16 > box.right) {
      x = box.left;
      y += row;
    }
    marks.push(...item.swatch(x, y), textMark(item.text, x + KEY_SWATCH + 6, y, style));
    x += width;
  }
  return { marks, height: items.length === 0 ? 0 : y + row / 2 - box.top };
}
