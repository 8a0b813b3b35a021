/** The order of names, numbers in them counted as numbers; never by the machine's language, so that it is the same everywhere. */
export function byName(a: string, b: string): number {
  return a.localeCompare(b, 'en', { numeric: true }) || (a < b ? -1 : Number(a > b));
}
