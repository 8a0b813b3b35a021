/** A percentage as a level, dB: 10 % is −20 dB. */
export function ratioDb(percent: number): number {
  return 20 * Math.log10(percent / 100);
}
