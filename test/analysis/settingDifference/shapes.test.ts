import { describe, expect, it } from 'vitest';
import {
  bell,
  highPass,
  lowPass,
  movedCorner,
  type Shape,
  shelf,
} from '../../../lib/analysis/settingDifference/shapes';

const x = Float64Array.from({ length: 40 }, (_, i) => Math.log(8) + i * 0.08);
const at = Math.log(31);

describe('shapes of a switch', () => {
  const shapes: [string, Shape, number[]][] = [
    ['a shelf of an order', shelf(1), [at, -5]],
    ['a shelf of any order', shelf(), [at, 4, 0.3]],
    ['a high-pass of an order', highPass(1, 2), [at, 0.4]],
    ['a high-pass of any order', highPass(-1), [at, -0.7, 0.2]],
    ['a low-pass of any order', lowPass(1), [at + 0.9, 0.1, -0.2]],
    ['a corner that moves', movedCorner, [at, -0.5, at + 0.4, 0.6]],
    ['a bell', bell(8, 180), [at, -4, 0.8]],
  ];
  it.each(shapes)('%s says how it changes with its parameters', (_, shape, parameters) => {
    const levels = new Float64Array(x.length);
    const slopes = { into: new Float64Array((parameters.length + 1) * x.length), from: x.length, stride: x.length };
    shape.fill(parameters, x, levels, slopes);
    const step = 1e-5;
    parameters.forEach((value, k) => {
      const [up, down] = [1, -1].map((sign) => {
        const moved = new Float64Array(x.length);
        shape.fill(parameters.with(k, value + sign * step), x, moved);
        return moved;
      });
      for (let i = 0; i < x.length; i++) {
        expect(slopes.into[(k + 1) * x.length + i]).toBeCloseTo((up[i] - down[i]) / (2 * step), 6);
      }
    });
  });
});
