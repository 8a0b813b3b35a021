/** What a switch can do to the low end, in dB re its effect far above. */
export interface Shape {
  name: 'shelf' | 'resonant shelf' | 'high-pass';
  /** Bounds of the parameters that follow the offset. */
  bounds: [number, number][];
  starts(lowHz: number, highHz: number, lowDb: number): number[][];
  db(hz: number, parameters: readonly number[]): number;
  /** Level far below, dB; null where there is none. */
  asymptoteDb(parameters: readonly number[]): number | null;
}

const HIGHEST_DB = 30;
const corners = (lowHz: number, highHz: number): number[] =>
  [0.15, 0.35, 0.55, 0.75].map((t) => Math.log(lowHz) + t * Math.log(highHz / lowHz));
const lg = (power: number): number => (10 / Math.LN10) * Math.log(power);
const corner: [number, number] = [Math.log(1), Math.log(2000)];

/**
 * Shelf whose slope is free: |H|^2 = (u + G) / (u + 1/G), u = (f/f0)^2n, G^2 its power gain far below; half of its
 * decibels at f0. n = 1 is a first-order shelf, n = 2 one made of Butterworth pairs.
 */
const shelf: Shape = {
  name: 'shelf',
  bounds: [corner, [-HIGHEST_DB, HIGHEST_DB], [Math.log(0.6), Math.log(4)]],
  starts: (low, high, db) => corners(low, high).flatMap((at) => [1, 2].map((n) => [at, db, Math.log(n)])),
  db(hz, [at, db, n]) {
    const u = Math.exp(2 * Math.exp(n) * (Math.log(hz) - at));
    const gain = 10 ** (db / 20);
    return lg((u + gain) / (u + 1 / gain));
  },
  asymptoteDb: ([, db]) => db,
};

/**
 * Second-order shelf with a free Q, so that it may overshoot: H = A (s^2 + sqrt(A)/Q s + A) / (A s^2 + sqrt(A)/Q s + 1),
 * A^2 its gain far below (low shelf of the W3C note "Audio EQ Cookbook", analogue prototype); half of its decibels at f0.
 */
const resonantShelf: Shape = {
  name: 'resonant shelf',
  bounds: [corner, [-HIGHEST_DB, HIGHEST_DB], [Math.log(0.3), Math.log(3)]],
  starts: (low, high, db) => corners(low, high).map((at) => [at, db, Math.log(0.7)]),
  db(hz, [at, db, logQ]) {
    const u = Math.exp(2 * (Math.log(hz) - at));
    const a = 10 ** (db / 40);
    const damped = (a / Math.exp(2 * logQ)) * u;
    return lg((a * a * ((a - u) ** 2 + damped)) / ((1 - a * u) ** 2 + damped));
  },
  asymptoteDb: ([, db]) => db,
};

/**
 * High-pass in one of the settings: |H|^2 = 1 / (1 + 2k v + v^2), v = (f0/f)^2n; k = 0 is Butterworth of order 2n.
 * The sign says in which of the two.
 */
const highPass = (sign: 1 | -1): Shape => ({
  name: 'high-pass',
  bounds: [corner, [Math.log(0.5), Math.log(4)], [-0.9, 2]],
  starts: (low, high) => corners(low, high).flatMap((at) => [1, 2].map((n) => [at, Math.log(n), 0])),
  db(hz, [at, n, k]) {
    const v = Math.exp(-2 * Math.exp(n) * (Math.log(hz) - at));
    return -sign * lg(1 + 2 * k * v + v * v);
  },
  asymptoteDb: () => null,
});

export const shapes: Shape[] = [shelf, resonantShelf, highPass(1), highPass(-1)];
