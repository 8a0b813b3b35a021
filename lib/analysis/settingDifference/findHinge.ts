/** Points a search looks at, per octave. */
const LOOKS = 48;

/**
 * Find the highest frequency at which a line comes down to a level, going up from where it lies beyond that level.
 *
 * @param db line over frequency. @param halfDb level looked for, of either sign. @returns Hz, null where it never does.
 */
export function findHinge(db: (hz: number) => number, halfDb: number, lowHz: number, highHz: number): number | null {
  const sign = Math.sign(halfDb);
  const beyond = (hz: number) => sign * (db(hz) - halfDb) >= 0;
  if (sign === 0 || !beyond(lowHz)) return null;
  const count = Math.ceil(Math.log2(highHz / lowHz) * LOOKS);
  for (let i = 1; i <= count; i++) {
    let high = Math.min(highHz, lowHz * 2 ** (i / LOOKS));
    if (beyond(high)) continue;
    let low = lowHz * 2 ** ((i - 1) / LOOKS);
    for (let halving = 0; halving < 40; halving++) {
      const middle = Math.sqrt(low * high);
      if (beyond(middle)) low = middle;
      else high = middle;
    }
    return Math.sqrt(low * high);
  }
  return null;
}
