const LN10_OVER_10 = Math.LN10 / 10;
const TEN_OVER_LN10 = 10 / Math.LN10;

/** Power ratio of a level in dB: 10^(L/10). */
export function powerOf(levelDb: number): number {
  return Math.exp(levelDb * LN10_OVER_10);
}

/** Level in dB of a power ratio: 10 lg P; -Infinity for 0, NaN below. */
export function levelOf(power: number): number {
  return Math.log(power) * TEN_OVER_LN10;
}

/** Powers of a column of levels in dB. */
export function powersOf(levelDb: ArrayLike<number>): Float64Array {
  const power = new Float64Array(levelDb.length);
  for (let i = 0; i < power.length; i++) power[i] = Math.exp(levelDb[i] * LN10_OVER_10);
  return power;
}

/** Level of the mean power of levels in dB: 10 lg (mean of 10^(L/10)). NaN for none. */
export function powerMeanDb(levelDb: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < levelDb.length; i++) sum += powerOf(levelDb[i]);
  return levelOf(sum / levelDb.length);
}
