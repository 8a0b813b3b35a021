const SLICE = 1 << 20;

/**
 * Replace in a text of any length, piece by piece: at once it would hold every place in memory, of which a text made of
 * nothing else has a hundred million.
 *
 * @param pattern global; matches single characters, or pairs that are not to be parted (CR LF).
 */
export function replaceInSlices(text: string, pattern: RegExp, by: string): string {
  if (text.length <= SLICE) return text.replace(pattern, by);
  const slices: string[] = [];
  for (let from = 0; from < text.length; ) {
    let to = Math.min(text.length, from + SLICE);
    if (text[to - 1] === '\r' && text[to] === '\n') to++;
    slices.push(text.slice(from, to).replace(pattern, by));
    from = to;
  }
  return slices.join('');
}
