/** A delay, and a difference of clocks, fitted to a phase. */
export interface LineFit {
  delayS: number;
  /** What is left, root mean square, radians. */
  leftRad: number;
  /** As a ratio; 0 where it was not fitted. */
  clock: number;
  /** Standard deviations of both. */
  delayDeviation: number;
  clockDeviation: number;
}

/** From how many root mean squares on points are weighed down. */
const FAR = 2.5;

/**
 * Least squares of phase = c - 2 pi f (delay + clock * time), weighed by frequency, points far off weighed down.
 *
 * @param hz frequencies. @param phase radians. @param timeS time of each in the sweep; left out, clocks are equal.
 * @param rounds of weighing down.
 *
 * Notes: neighbours are not independent; for the deviation, as many points count as what is left changes its sign.
 */
export function fitLine(
  hz: Float64Array,
  phase: Float64Array,
  timeS: Float64Array | undefined,
  rounds: number,
): LineFit {
  const n = timeS ? 3 : 2;
  // the end of the sweep is taken out of the times, to keep the columns apart
  const end = timeS ? timeS[timeS.length - 1] : 0;
  const columns = Array.from({ length: n }, () => new Float64Array(hz.length));
  for (let i = 0; i < hz.length; i++) {
    columns[0][i] = 1;
    columns[1][i] = -2 * Math.PI * hz[i];
    if (timeS) columns[2][i] = -2 * Math.PI * hz[i] * (timeS[i] - end);
  }
  const weights = Float64Array.from(hz);
  let solved = solve(columns, phase, weights);
  for (let round = 0; round < rounds; round++) {
    const bound = FAR * solved.leftRad + 1e-6;
    for (let i = 0; i < hz.length; i++) {
      weights[i] = hz[i] * Math.min(1, bound / Math.max(Math.abs(solved.left[i]), 1e-9));
    }
    solved = solve(columns, phase, weights);
  }
  const { found, left, leftRad, inverse, total } = solved;
  let turns = 1;
  for (let i = 1; i < left.length; i++) if (left[i] * left[i - 1] < 0) turns++;
  const clock = timeS ? found[2] : 0;
  const scale = (leftRad * Math.sqrt(total)) / Math.sqrt(Math.max(1, turns - n));
  // the delay is that at the beginning: its variance holds what the clock adds until then
  const variance = timeS ? inverse[1][1] - 2 * end * inverse[1][2] + end * end * inverse[2][2] : inverse[1][1];
  return {
    delayS: found[1] - clock * end,
    leftRad,
    clock,
    delayDeviation: scale * Math.sqrt(Math.max(0, variance)),
    clockDeviation: timeS ? scale * Math.sqrt(inverse[2][2]) : 0,
  };
}

function solve(columns: Float64Array[], phase: Float64Array, weights: Float64Array) {
  const inverse = invert(columns.map((a) => columns.map((b) => dot(weights, a, b))));
  const right = columns.map((a) => dot(weights, a, phase));
  const found = inverse.map((row) => row.reduce((sum, x, j) => sum + x * right[j], 0));
  const left = phase.slice();
  columns.forEach((column, j) => {
    for (let i = 0; i < left.length; i++) left[i] -= column[i] * found[j];
  });
  let total = 0;
  for (let i = 0; i < weights.length; i++) total += weights[i];
  return { found, left, inverse, total, leftRad: Math.sqrt(dot(weights, left, left) / total) };
}

function dot(weights: Float64Array, a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += weights[i] * a[i] * b[i];
  return sum;
}

/** Inverse of a small symmetric matrix, by Gauss and Jordan, its diagonal brought to one first. */
function invert(matrix: number[][]): number[][] {
  const n = matrix.length;
  const scale = matrix.map((row, i) => 1 / Math.sqrt(row[i]));
  const work = matrix.map((row, i) => [
    ...row.map((x, j) => x * scale[i] * scale[j]),
    ...scale.map((_, j) => (i === j ? 1 : 0)),
  ]);
  for (let i = 0; i < n; i++) {
    const pivot = work[i][i];
    for (let j = 0; j < 2 * n; j++) work[i][j] /= pivot;
    for (let k = 0; k < n; k++) {
      if (k === i) continue;
      const factor = work[k][i];
      for (let j = 0; j < 2 * n; j++) work[k][j] -= factor * work[i][j];
    }
  }
  return work.map((row, i) => row.slice(n).map((x, j) => x * scale[i] * scale[j]));
}
