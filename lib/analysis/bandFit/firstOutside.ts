/**
 * For each value of a column, find the next one that leaves a window of its own.
 *
 * @param y values. @param below the window of y(i) reaches from y(i) - below ... @param above ... to y(i) + above.
 * @param step 1: the next one after it, -1: the next one before it.
 * @returns for each i the index of the nearest value on that side that lies outside; y.length or -1 where none does.
 *
 * Two stacks hold the values that are lower (higher) than all between them and i; along a stack values are in order,
 * so the wanted one is found by halving. O(N log N).
 *
 * @example
 * firstOutside([0, 1, 5, 1], 0, 3, 1) // [2, 2, 3, 4]
 */
export function firstOutside(y: Float64Array, below: number, above: number, step: 1 | -1): Int32Array {
  const count = y.length;
  const none = step > 0 ? count : -1;
  const out = new Int32Array(count);
  const lower = new Int32Array(count);
  const higher = new Int32Array(count);
  let lowers = 0;
  let highers = 0;
  for (let n = 0; n < count; n++) {
    const i = step > 0 ? count - 1 - n : n;
    const level = y[i];
    while (lowers > 0 && y[lower[lowers - 1]] >= level) lowers--;
    while (highers > 0 && y[higher[highers - 1]] <= level) highers--;
    const neighbour = y[i + step];
    // on a slope one side needs no search
    if (neighbour < level - below || neighbour > level + above) out[i] = i + step;
    else {
      const down = topmostBelow(y, lower, lowers, level - below);
      const up = topmostAbove(y, higher, highers, level + above);
      if (down < 0 || up < 0) out[i] = down < 0 ? (up < 0 ? none : higher[up]) : lower[down];
      else out[i] = step > 0 ? Math.min(lower[down], higher[up]) : Math.max(lower[down], higher[up]);
    }
    lower[lowers++] = i;
    higher[highers++] = i;
  }
  return out;
}

/** Position of the topmost entry below a level in a stack whose values rise towards the top; -1 where none is. */
function topmostBelow(y: Float64Array, stack: Int32Array, size: number, level: number): number {
  if (size > 0 && y[stack[size - 1]] < level) return size - 1;
  let found = -1;
  let beyond = size;
  while (beyond - found > 1) {
    const middle = (found + beyond) >> 1;
    if (y[stack[middle]] < level) found = middle;
    else beyond = middle;
  }
  return found;
}

/** The same for entries above a level in a stack whose values fall towards the top. */
function topmostAbove(y: Float64Array, stack: Int32Array, size: number, level: number): number {
  if (size > 0 && y[stack[size - 1]] > level) return size - 1;
  let found = -1;
  let beyond = size;
  while (beyond - found > 1) {
    const middle = (found + beyond) >> 1;
    if (y[stack[middle]] > level) found = middle;
    else beyond = middle;
  }
  return found;
}
