import type { Interval } from '../../model/curve';

/** A box over frequency and height with what it says. */
export interface Cell {
  hz: Interval;
  /** Lower and upper edge on the upright axis. */
  span: [number, number];
  fill: string;
  stroke?: string;
  /** Drawn across the box where it cannot be trusted. */
  hatch?: string;
  text?: string;
  ink?: string;
}

interface CellApi {
  value: (dimension: number) => number;
  coord: (point: [number, number]) => [number, number];
}

/** An ECharts series of boxes; a text that does not fit its box is left out. */
export function cellSeries(
  cells: Cell[],
  style: { fontSize: number; fontFamily: string; textWidth: (text: string) => number },
): object {
  return {
    type: 'custom',
    silent: true,
    clip: true,
    encode: { x: [0, 1], y: [2, 3] },
    data: cells.map((cell) => [...cell.hz, ...cell.span]),
    renderItem: (params: { dataIndex: number }, api: CellApi) => {
      const cell = cells[params.dataIndex];
      const [left, bottom] = api.coord([api.value(0), api.value(2)]);
      const [right, top] = api.coord([api.value(1), api.value(3)]);
      const box = { x: left, y: top, width: right - left, height: bottom - top };
      const fits = cell.text && style.textWidth(cell.text) <= box.width - 3 && style.fontSize <= box.height - 2;
      return {
        type: 'group',
        children: [
          {
            type: 'rect',
            shape: box,
            style: { fill: cell.fill, ...(cell.stroke && { stroke: cell.stroke, lineWidth: 1 }) },
          },
          ...(cell.hatch
            ? [
                {
                  type: 'path',
                  shape: { pathData: hatchPath(box) },
                  style: { fill: 'none', stroke: cell.hatch, lineWidth: 1 },
                },
              ]
            : []),
          ...(fits
            ? [
                {
                  type: 'text',
                  x: box.x + box.width / 2,
                  y: box.y + box.height / 2,
                  style: {
                    text: cell.text,
                    fill: cell.ink,
                    fontSize: style.fontSize,
                    fontFamily: style.fontFamily,
                    textAlign: 'center',
                    textVerticalAlign: 'middle',
                  },
                },
              ]
            : []),
        ],
      };
    },
  };
}

/** Slanting lines across a box, as pairs of ends. */
export function hatch(
  box: { x: number; y: number; width: number; height: number },
  spacing = 8,
): [[number, number], [number, number]][] {
  const { x, y, width, height } = box;
  const lines: [[number, number], [number, number]][] = [];
  // Each line is x + y = offset; counted from the drawing's corner so that neighbouring boxes join up.
  for (let offset = Math.ceil((x + y) / spacing) * spacing; offset < x + y + width + height; offset += spacing) {
    const x1 = Math.max(x, offset - (y + height));
    const x2 = Math.min(x + width, offset - y);
    if (x2 > x1)
      lines.push([
        [x1, offset - x1],
        [x2, offset - x2],
      ]);
  }
  return lines;
}

function hatchPath(box: { x: number; y: number; width: number; height: number }): string {
  return hatch(box)
    .map(([from, to]) => `M${from.join(' ')}L${to.join(' ')}`)
    .join('');
}
