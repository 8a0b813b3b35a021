/** U+2212, as wide as a plus sign and never broken from its digits. */
export const MINUS = '\u2212';
/** U+00A0, between a number and its unit. */
export const NO_BREAK = '\u00a0';

/** U+2013, between the ends of a range. */
export const RANGE = '\u2013';

/**
 * Write a number with a fixed count of decimals, a true minus sign and no "-0".
 *
 * @example
 * formatNumber(-3.04, 1) // '−3.0'
 */
export function formatNumber(value: number, decimals: number): string {
  const text = Math.abs(value).toFixed(decimals);
  return value < 0 && Number(text) !== 0 ? MINUS + text : text;
}

/** The same with a sign in front of positive numbers too: '+3.0'. */
export function formatSigned(value: number, decimals: number): string {
  const text = formatNumber(value, decimals);
  return value > 0 && Number(text) !== 0 ? `+${text}` : text;
}

/** Three significant digits, no unit: 18.24 -> '18.2', 104.4 -> '104', 1234 -> '1230'. */
export function formatHertz(hz: number): string {
  return String(Number(hz.toPrecision(3)));
}

/** '18.2 Hz', the unit held to its number. */
export function formatHz(hz: number): string {
  return `${formatHertz(hz)}${NO_BREAK}Hz`;
}

/** '18.2–104 Hz'. */
export function formatHzRange(lowHz: number, highHz: number): string {
  return `${formatHertz(lowHz)}${RANGE}${formatHz(highHz)}`;
}

/** '96.4 dB', one decimal unless told otherwise. */
export function formatDb(db: number, decimals = 1): string {
  return `${formatNumber(db, decimals)}${NO_BREAK}dB`;
}

/** '+12.0 dB': a difference, its sign always shown. */
export function formatDbChange(db: number, decimals = 1): string {
  return `${formatSigned(db, decimals)}${NO_BREAK}dB`;
}

/** As many decimals as the number has, at most `most`: 5 -> '5', 4.5 -> '4.5'. */
export function formatShort(value: number, most = 1): string {
  const decimals = (String(Number(Math.abs(value).toFixed(most))).split('.')[1] ?? '').length;
  return formatNumber(value, decimals);
}

/** 'a', 'a and b', 'a, b and c'. */
export function formatList(items: string[]): string {
  if (items.length < 2) return items.join('');
  return `${items.slice(0, -1).join(', ')} and ${items[items.length - 1]}`;
}

/** '1 dip', '2 dips'. */
export function formatCount(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** Digits of a percentage that say something: 0.42, 2.4, 12. */
export function percentDigits(percent: number): string {
  return percent.toFixed(percent < 0.995 ? 2 : percent < 9.95 ? 1 : 0);
}

/** '2.4 %', the sign held to its number. */
export function formatPercent(percent: number): string {
  return `${percentDigits(percent)}${NO_BREAK}%`;
}

/** '45 s', '15 min', '1 h 30 min', 'more than a day'. */
export function formatDuration(seconds: number): string {
  if (seconds > 86_400) return 'more than a day';
  if (seconds < 99.5) return `${formatNumber(seconds, 0)}${NO_BREAK}s`;
  const minutes = Math.round(seconds / 60);
  const [h, min] = [Math.floor(minutes / 60), minutes % 60];
  return [h > 0 ? `${h}${NO_BREAK}h` : '', min > 0 ? `${min}${NO_BREAK}min` : ''].filter(Boolean).join(' ');
}

/** A percentage as a level, dB: 10 % is −20 dB. */
export function ratioDb(percent: number): number {
  return 20 * Math.log10(percent / 100);
}
