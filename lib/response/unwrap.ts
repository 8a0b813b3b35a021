/**
 * Take the jumps of whole turns out of a phase column.
 *
 * @param phaseDeg degrees. @returns the same phase, no step larger than half a turn.
 *
 * Only right where the true phase turns by less than 180 degrees from one point to the next.
 *
 * @example
 * unwrap([170, -170]) // [170, 190]
 */
export function unwrap(phaseDeg: ArrayLike<number>): number[] {
  const out = new Array<number>(phaseDeg.length);
  let turns = 0;
  for (let i = 0; i < phaseDeg.length; i++) {
    if (i > 0) turns -= Math.round((phaseDeg[i] - phaseDeg[i - 1]) / 360);
    out[i] = phaseDeg[i] + 360 * turns;
  }
  return out;
}

/** An angle brought into -180 .. 180 degrees. */
export function wrap(phaseDeg: number): number {
  return phaseDeg - 360 * Math.round(phaseDeg / 360);
}
