import type { Curve, Interval } from '../model/curve';
import { deriveCurve } from '../model/makeCurve';
import { makeRefusal } from '../words/makeRefusal';
import { isInside, mergeIntervals } from './intervals';
import { unwrap, wrap } from './unwrap';

/** Width of the stretch beside a mask that its edge level is read from. */
const EDGE_OCTAVES = 1 / 6;

/**
 * The curve as it would go on across masked ranges.
 *
 * Points inside a mask are put on a straight line, in dB over log frequency, from the mean level of the 1/6 octave
 * before it to that of the 1/6 octave after it; so no single noisy point decides, and a straight roll-off goes straight
 * on. A phase is carried across in the same way, unwrapped. Noise is left as it is.
 *
 * @param curve any curve. @param masksHz ranges in Hz, in any order; they may overlap. Points on a border are not masked.
 * @returns a new curve on the same frequencies. Towards a mask that holds an end of the curve, the level beside the
 * mask is held.
 * @throws BassloomError `bad-interval`, `all-masked`.
 *
 * @example
 * bridge(makeCurve({ frequencyHz: [20, 40, 50, 60, 80], levelDb: [80, 80, 62, 80, 80] }), [[45, 55]]) // 80 dB at 50 Hz
 */
export function bridge(curve: Curve, masksHz: Interval[]): Curve {
  const masks = mergeIntervals(masksHz);
  const kept = unmaskedPoints(curve, masks);
  const { frequencyHz, levelDb, phaseDeg } = curve;
  return deriveCurve(
    curve,
    {
      levelDb: bridgeColumn(frequencyHz, levelDb, kept),
      ...(phaseDeg && { phaseDeg: bridgeColumn(frequencyHz, unwrap(phaseDeg), kept).map(wrap) }),
    },
    { did: 'bridge', with: { masksHz: masks } },
  );
}

/**
 * Indices of the points of a curve that no mask covers.
 *
 * @throws BassloomError `all-masked` where none is left.
 */
export function unmaskedPoints(curve: Curve, masks: readonly Interval[]): number[] {
  const kept = [...curve.frequencyHz.keys()].filter((i) => !isInside(curve.frequencyHz[i], masks));
  if (kept.length > 0) return kept;
  throw makeRefusal('all-masked', { label: curve.label }, { field: 'masksHz' });
}

function bridgeColumn(frequencyHz: number[], values: number[], kept: number[]): number[] {
  const x = kept.map((i) => Math.log2(frequencyHz[i]));
  const y = kept.map((i) => values[i]);
  const out = values.slice();
  for (let n = -1; n < kept.length; n++) {
    const from = n < 0 ? -1 : kept[n];
    const to = n + 1 < kept.length ? kept[n + 1] : values.length;
    if (to - from < 2) continue;
    const before = n < 0 ? undefined : meanBeside(x, y, n, -1);
    const after = n + 1 < kept.length ? meanBeside(x, y, n + 1, 1) : undefined;
    const [a, b] = [before ?? after!, after ?? before!];
    for (let i = from + 1; i < to; i++) {
      const t = b.x > a.x ? (Math.log2(frequencyHz[i]) - a.x) / (b.x - a.x) : 0;
      out[i] = a.y + t * (b.y - a.y);
    }
  }
  return out;
}

/** Middle and mean of the polyline over EDGE_OCTAVES from a point, downwards (-1) or upwards (1). */
function meanBeside(x: number[], y: number[], at: number, direction: 1 | -1): { x: number; y: number } {
  let area = 0;
  let width = 0;
  for (let i = at; width < EDGE_OCTAVES && x[i + direction] !== undefined; i += direction) {
    const step = Math.abs(x[i + direction] - x[i]);
    const part = Math.min(step, EDGE_OCTAVES - width);
    const end = y[i] + (part / step) * (y[i + direction] - y[i]);
    area += 0.5 * (y[i] + end) * part;
    width += part;
  }
  return width > 0 ? { x: x[at] + 0.5 * direction * width, y: area / width } : { x: x[at], y: y[at] };
}
