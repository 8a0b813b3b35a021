import type { DrawnLine } from './drawnLine';

/** Third-octave frequencies that figures are tabulated at: values are read off the drawn line. */
export function valueAt(line: DrawnLine, hz: number): number | null {
  const { points } = line;
  if (points.length === 0 || hz < points[0].hz * 0.999 || hz > points[points.length - 1].hz * 1.001) return null;
  let nearest = points[0];
  for (const point of points)
    if (Math.abs(Math.log(point.hz / hz)) < Math.abs(Math.log(nearest.hz / hz))) nearest = point;
  return nearest.value;
}
