/** What a switch can do, in dB re its effect where it does nothing else than change the level. */
export interface Shape {
  kind: 'flat' | 'shelf' | 'low-pass' | 'other';
  /** Bounds of the parameters. */
  bounds: [number, number][];
  /** Levels at natural logarithms of frequencies in Hz, into `levels`, and how they change with each parameter. */
  fill(parameters: ArrayLike<number>, x: Float64Array, levels: Float64Array, slopes?: Slopes): void;
  /** Level far below, dB; null where there is none. */
  asymptoteDb(parameters: ArrayLike<number>): number | null;
}

/** Partial derivatives: those of parameter k begin at `from + k * stride`. */
export interface Slopes {
  into: Float64Array;
  from: number;
  stride: number;
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
  fill({ 0: at, 1: db, 2: n }, x, levels, slopes) {
    const steepness = 2 * (order ?? Math.exp(n));
    const gain = Math.exp(db / (2 * DB));
    for (let i = 0; i < x.length; i++) {
      const u = Math.exp(steepness * (x[i] - at));
      const [above, below] = [u + gain, u + 1 / gain];
      levels[i] = DB * Math.log(above / below);
      if (!slopes) continue;
      const rise = DB * (u / above - u / below);
      const { into, from, stride } = slopes;
      into[from + i] = -steepness * rise;
      into[from + stride + i] = 0.5 * (gain / above + 1 / (gain * below));
      if (!order) into[from + 2 * stride + i] = steepness * (x[i] - at) * rise;
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
    fill({ 0: at, 1: damping, 2: n }, x, levels, slopes) {
      const k = 2 * Math.expm1(damping);
      const steepness = 2 * towards * (order ?? Math.exp(n));
      for (let i = 0; i < x.length; i++) {
        const v = Math.exp(steepness * (x[i] - at));
        const whole = 1 + k * v + v * v;
        levels[i] = -sign * DB * Math.log(whole);
        if (!slopes) continue;
        const rise = (-sign * DB * v * (k + 2 * v)) / whole;
        const { into, from, stride } = slopes;
        into[from + i] = -steepness * rise;
        into[from + stride + i] = (-sign * DB * v * (k + 2)) / whole;
        if (!order) into[from + 2 * stride + i] = steepness * (x[i] - at) * rise;
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
  fill({ 0: at, 1: damping, 2: at2, 3: damping2 }, x, levels, slopes) {
    const [k, l] = [2 * Math.expm1(damping), 2 * Math.expm1(damping2)];
    const ratio = Math.exp(2 * (at2 - at));
    for (let i = 0; i < x.length; i++) {
      const v = Math.exp(2 * (at - x[i]));
      const w = v * ratio;
      const [one, other] = [1 + k * v + v * v, 1 + l * w + w * w];
      levels[i] = DB * Math.log(one / other);
      if (!slopes) continue;
      const { into, from, stride } = slopes;
      into[from + i] = (2 * DB * v * (k + 2 * v)) / one;
      into[from + stride + i] = (DB * v * (k + 2)) / one;
      into[from + 2 * stride + i] = (-2 * DB * w * (l + 2 * w)) / other;
      into[from + 3 * stride + i] = (-DB * w * (l + 2)) / other;
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
  fill({ 0: at, 1: db, 2: q }, x, levels, slopes) {
    const gain = Math.exp(db / (2 * DB));
    const width = Math.exp(-2 * q);
    for (let i = 0; i < x.length; i++) {
      const v = Math.exp(2 * (x[i] - at));
      const off = (1 - v) ** 2;
      const [lifted, held] = [v * gain * width, (v * width) / gain];
      const [one, other] = [off + lifted, off + held];
      levels[i] = DB * Math.log(one / other);
      if (!slopes) continue;
      const bend = -2 * (1 - v) * v;
      const { into, from, stride } = slopes;
      into[from + i] = -2 * DB * ((bend + lifted) / one - (bend + held) / other);
      into[from + stride + i] = 0.5 * (lifted / one + held / other);
      into[from + 2 * stride + i] = -2 * DB * (lifted / one - held / other);
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
