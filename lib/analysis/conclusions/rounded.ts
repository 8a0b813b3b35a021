/** Three significant digits, as frequencies are read. */
export function toHz(hz: number): number {
  return Number(hz.toPrecision(3));
}

/** One decimal, as levels and drives are read; no negative zero. */
export function toTenth(db: number): number {
  return Number(db.toFixed(1)) + 0;
}

/** Two decimals. */
export function toHundredth(value: number): number {
  return Number(value.toFixed(2)) + 0;
}
