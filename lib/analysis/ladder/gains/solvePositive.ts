/**
 * Solve a small symmetric positive definite system and give its inverse.
 *
 * @param matrix n rows of n. @param right n values. Both are left as they are.
 *
 * Notes: Cholesky, O(n^3). A direction that nothing determines gives NaN.
 *
 * @example
 * solvePositive([[4, 2], [2, 3]], [8, 7]) // { solution: [1.25, 1.5], inverse: [[0.375, -0.25], [-0.25, 0.5]] }
 */
export function solvePositive(matrix: number[][], right: number[]): { solution: number[]; inverse: number[][] } {
  const lower = factor(matrix);
  const solve = (values: number[]) => backward(lower, forward(lower, values));
  const unit = (at: number) => right.map((_, i) => (i === at ? 1 : 0));
  return { solution: solve(right), inverse: right.map((_, i) => solve(unit(i))) };
}

function factor(matrix: number[][]): number[][] {
  const lower = matrix.map((row) => row.map(() => 0));
  matrix.forEach((row, i) => {
    for (let j = 0; j <= i; j++) {
      let rest = row[j];
      for (let k = 0; k < j; k++) rest -= lower[i][k] * lower[j][k];
      lower[i][j] = i === j ? Math.sqrt(rest) : rest / lower[j][j];
    }
  });
  return lower;
}

function forward(lower: number[][], values: number[]): number[] {
  const out: number[] = [];
  lower.forEach((row, i) => {
    let rest = values[i];
    for (let k = 0; k < i; k++) rest -= row[k] * out[k];
    out.push(rest / row[i]);
  });
  return out;
}

function backward(lower: number[][], values: number[]): number[] {
  const out = [...values];
  for (let i = lower.length - 1; i >= 0; i--) {
    for (let k = i + 1; k < lower.length; k++) out[i] -= lower[k][i] * out[k];
    out[i] /= lower[i][i];
  }
  return out;
}
