export interface FlowNode {
  id: string;
  type: string;
  name?: string;
  z?: string;
  x?: number;
  y?: number;
  wires?: string[][];
}

export interface Box {
  left: number;
  right: number;
  top: number;
  bottom: number;
}

/** About what the editor gives a node: 7 px a letter, room for icon and port, in steps of 20 px. */
export function boxOf({ type, name, x = 0, y = 0 }: FlowNode): Box {
  const letters = (name || type.replace('bassloom-', '')).length;
  const width = /^link (in|out)$/.test(type) ? 30 : Math.max(100, 20 * Math.ceil((7 * letters + 57) / 20));
  return { left: x - width / 2, right: x + width / 2, top: y - 15, bottom: y + 15 };
}

/** Where a node's status stands: below it from its left edge on, 24 letters of 6 px (the longest are some 26). */
export function statusBox(node: FlowNode): Box {
  const { left, bottom } = boxOf(node);
  return { left, right: left + 20 + 24 * 6, top: bottom, bottom: bottom + 18 };
}

export function overlap(a: Box, b: Box): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

type Point = [x: number, y: number];

/** Points of the curve that the editor draws for a wire; where it goes back it turns round at both ends. */
export function wirePoints(from: FlowNode, port: number, to: FlowNode): Point[] {
  const ports = from.wires?.length ?? 1;
  const start: Point = [boxOf(from).right, (from.y ?? 0) + (port - (ports - 1) / 2) * 13];
  const end: Point = [boxOf(to).left, to.y ?? 0];
  const [dx, dy] = [end[0] - start[0], end[1] - start[1]];
  const length = Math.hypot(dx, dy);
  if (dx > 0) {
    const reach = 100 * (length < 100 ? 0.75 - 0.75 * ((100 - length) / 100) : 0.75);
    return bezier(start, [start[0] + reach, start[1]], [end[0] - reach, end[1]], end);
  }
  const reach = 100 * (0.4 - 0.2 * Math.max(0, (100 - Math.min(Math.abs(dx), Math.abs(dy))) / 100));
  const middle: Point = [end[0] - dx / 2, dy === 0 ? end[1] + 30 : end[1] - dy / 2];
  const sign = dy < 0 ? -1 : 1;
  const turn = (at: Point, side: number): Point => [at[0] + side * reach, at[1] + side * sign * 15];
  const [right, left] = [turn(start, 1), turn(end, -1)];
  return [
    ...bezier(start, [right[0], start[1]], [right[0], start[1]], right),
    ...bezier(right, [right[0], right[1] + sign * 15], middle, middle),
    ...bezier(middle, middle, [left[0], left[1] - sign * 15], left),
    ...bezier(left, [left[0], end[1]], [left[0], end[1]], end),
  ];
}

function bezier(a: Point, b: Point, c: Point, d: Point): Point[] {
  return Array.from({ length: 41 }, (_, i) => {
    const t = i / 40;
    const weigh = (k: 0 | 1) =>
      (1 - t) ** 3 * a[k] + 3 * (1 - t) ** 2 * t * b[k] + 3 * (1 - t) * t ** 2 * c[k] + t ** 3 * d[k];
    return [weigh(0), weigh(1)];
  });
}
