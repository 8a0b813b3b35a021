const [LF, CR, BLANK] = [10, 13, 32];
const OTHER_BLANKS = new Set([0xa0, 0x202f, 0x3000, ...Array.from({ length: 11 }, (_, i) => 0x2000 + i)]);

/** Make all line ends LF. */
export function withLineFeeds(text: string): string {
  if (!text.includes('\r')) return text;
  return rewrite(text, (units) => {
    let to = 0;
    for (let from = 0; from < units.length; from++) {
      if (units[from] === LF && from > 0 && units[from - 1] === CR) to--;
      units[to++] = units[from] === CR ? LF : units[from];
    }
    return to;
  });
}

/** Make no-break and other special blanks plain ones. */
export function withPlainBlanks(text: string): string {
  return rewrite(text, (units) => {
    for (let i = 0; i < units.length; i++) if (OTHER_BLANKS.has(units[i])) units[i] = BLANK;
    return units.length;
  });
}

/**
 * Rewrite a text in place. Replacing by pattern would hold every place in memory, of which a text that is made of nothing
 * else has a hundred million.
 *
 * @param work changes the UTF-16 units (or bytes, where no unit needs more) and returns how many are left.
 */
function rewrite(text: string, work: (units: Uint8Array | Uint16Array) => number): string {
  if (!/[^\0-\xff]/.test(text)) {
    const bytes = Buffer.from(text, 'latin1');
    return bytes.toString('latin1', 0, work(bytes));
  }
  const units = new Uint16Array(text.length);
  const bytes = Buffer.from(units.buffer);
  bytes.write(text, 'utf16le');
  return bytes.toString('utf16le', 0, 2 * work(units));
}
