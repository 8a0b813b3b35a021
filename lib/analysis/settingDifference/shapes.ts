/** What a switch can do, in dB re its effect where it does nothing else than change the level. */
export interface Shape {
  kind: 'flat' | 'shelf' | 'low-pass' | 'other';
  /** Bounds of the parameters. */
  bounds: [number, number][];
  /** Levels at natural logarithms of frequencies in Hz, into `levels`. */
  fill(parameters: ArrayLike<number>, x: Float64Array, levels: Float64Array): void;
  /** Level far below, dB; null where there is none. */
  asymptoteDb(parameters: ArrayLike<number>): number | null;
}

/** Level of a shape over the natural logarithm of frequency in Hz. */
export function lineOf(shape: Shape, parameters: ArrayLike<number>): (x: number) => number {
  const [at, level] = [new Float64Array(1), new Float64Array(1)];
  return (x) => {
    at[0] = x;
    shape.fill(parameters, at, level);
    return level[0];
  };
}

const CORNER: [number, number] = [Math.log(0.5), Math.log(2000)];
const ORDER: [number, number] = [Math.log(0.5), Math.log(4)];
/** ln (1 + k) of a pair of poles, k = 1 / (2 Q^2) - 1: Q from 2 down to two real poles far apart. */
const DAMPING: [number, number] = [-2.1, 3];
const DB = 10 / Math.LN10;

/**
 * Shelf: |H|^2 = (u + G) / (u + 1/G), u = (f/f0)^2n, G^2 its power gain far below; half of its decibels at f0. n = 1 is a
 * first-order shelf, n = 2 one made of Butterworth pairs. Parameters: ln f0, dB, and ln n where no order is given.
 */
export const shelf = (order?: number): Shape => ({
  kind: 'shelf',
  bounds: [CORNER, [-30, 30], ...(order ? [] : [ORDER])],
  fill({ 0: at, 1: db, 2: n }, x, levels) {
    const steepness = 2 * (order ?? Math.exp(n));
    const gain = Math.exp(db / (2 * DB));
    for (let i = 0; i < x.length; i++) {
      const u = Math.exp(steepness * (x[i] - at));
      levels[i] = DB * Math.log((u + gain) / (u + 1 / gain));
    }
  },
  asymptoteDb: ({ 1: db }) => db,
});

/**
 * High-pass or low-pass in one of the settings: |H|^2 = 1 / (1 + 2k v + v^2), v = (f0/f)^2n or (f/f0)^2n; k = 0 is
 * Butterworth of order 2n.
 *
 * @param sign 1 where it cuts, -1 where the other setting does. Parameters: ln f0, ln (1 + k), and ln n where no n is given.
 */
const pass =
  (kind: 'shelf' | 'low-pass', towards: number) =>
  (sign: number, order?: number): Shape => ({
    kind,
    bounds: [CORNER, DAMPING, ...(order ? [] : [ORDER])],
    fill({ 0: at, 1: damping, 2: n }, x, levels) {
      const k = 2 * Math.expm1(damping);
      const steepness = 2 * towards * (order ?? Math.exp(n));
      for (let i = 0; i < x.length; i++) {
        const v = Math.exp(steepness * (x[i] - at));
        levels[i] = -sign * DB * Math.log(1 + k * v + v * v);
      }
    },
    asymptoteDb: () => null,
  });

/** Changes all from a frequency down, as a shelf does, without end. */
export const highPass = pass('shelf', -1);
export const lowPass = pass('low-pass', 1);

/**
 * Second-order high-pass whose corner and Q differ, which is also every second-order shelf with a Q: |H|^2 =
 * (1 + 2k v + v^2) / (1 + 2k' v' + v'^2), v = (f0/f)^2, k = 1/(2 Q^2) - 1. Parameters: ln f0, ln (1 + k), ln f0', ln (1 + k').
 */
export const movedCorner: Shape = {
  kind: 'shelf',
  bounds: [CORNER, DAMPING, CORNER, DAMPING],
  fill({ 0: at, 1: damping, 2: at2, 3: damping2 }, x, levels) {
    const [k, l] = [2 * Math.expm1(damping), 2 * Math.expm1(damping2)];
    const ratio = Math.exp(2 * (at2 - at));
    for (let i = 0; i < x.length; i++) {
      const v = Math.exp(2 * (at - x[i]));
      const w = v * ratio;
      levels[i] = DB * Math.log((1 + k * v + v * v) / (1 + l * w + w * w));
    }
  },
  asymptoteDb: ({ 0: at, 2: at2 }) => 4 * DB * (at - at2),
};

/**
 * Peak or dip of a parametric equaliser: |H|^2 = ((1 - v)^2 + v A / Q^2) / ((1 - v)^2 + v / (A Q^2)), v = (f/f0)^2, A =
 * 10^(dB/20), inside a range that shows both of its sides. Parameters: ln f0, dB, ln Q. Reference: W3C Working Group Note "Audio EQ Cookbook".
 */
export const bell = (lowHz: number, highHz: number): Shape => ({
  kind: 'other',
  bounds: [
    [Math.log(1.4 * lowHz), Math.log(Math.max(1.5 * lowHz, highHz / 1.2))],
    [-30, 30],
    [Math.log(0.3), Math.log(12)],
  ],
  fill({ 0: at, 1: db, 2: q }, x, levels) {
    const gain = Math.exp(db / (2 * DB));
    const width = Math.exp(-2 * q);
    for (let i = 0; i < x.length; i++) {
      const v = Math.exp(2 * (x[i] - at));
      const off = (1 - v) ** 2;
      levels[i] = DB * Math.log((off + v * gain * width) / (off + (v * width) / gain));
    }
  },
  asymptoteDb: () => null,
});

/** Both settings do the same, but for a level. */
export const unchanged: Shape = {
  kind: 'flat',
  bounds: [],
  fill: (_none, _x, levels) => void levels.fill(0),
  asymptoteDb: () => null,
};
