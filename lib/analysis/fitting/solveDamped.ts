/** Solve (N + damping diag N) x = g by Cholesky decomposition; a parameter without influence stays where it is. */
export function solveDamped(normal: Float64Array, gradient: Float64Array, damping: number): Float64Array {
  const size = gradient.length;
  const lower = new Float64Array(normal);
  const x = new Float64Array(gradient);
  for (let a = 0; a < size; a++) {
    const diagonal = normal[a * size + a];
    lower[a * size + a] = diagonal > 0 ? diagonal * (1 + damping) : 1;
  }
  for (let a = 0; a < size; a++) {
    for (let b = 0; b <= a; b++) {
      let sum = lower[a * size + b];
      for (let k = 0; k < b; k++) sum -= lower[a * size + k] * lower[b * size + k];
      if (a === b) lower[a * size + a] = Math.sqrt(Math.max(sum, 1e-300));
      else lower[a * size + b] = sum / lower[b * size + b];
    }
    for (let k = 0; k < a; k++) x[a] -= lower[a * size + k] * x[k];
    x[a] /= lower[a * size + a];
  }
  for (let a = size - 1; a >= 0; a--) {
    for (let k = a + 1; k < size; k++) x[a] -= lower[k * size + a] * x[k];
    x[a] /= lower[a * size + a];
  }
  return x;
}
