/** A frequency as people say it: three digits. */
export function hz(frequencyHz: number): string {
  return `${Number(frequencyHz.toPrecision(3))} Hz`;
}

/** 'a', 'a and b', 'a, b and c'. */
export function list(items: string[]): string {
  return items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} and ${items[items.length - 1]}`;
}

/** Some bands by their nominal centres: all of a few, first and last of many. */
export function share(bandsHz: number[]): string {
  if (bandsHz.length <= 4) return `${list(bandsHz.map(String))} Hz`;
  return `${bandsHz.length} bands between ${bandsHz[0]} and ${bandsHz[bandsHz.length - 1]} Hz`;
}
