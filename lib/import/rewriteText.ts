const [LF, CR, BLANK] = [10, 13, 32];
const OTHER_BLANKS = new Set([0xa0, 0x202f, 0x3000, ...Array.from({ length: 11 }, (_, i) => 0x2000 + i)]);

/** Make all line ends LF. */
export function withLineFeeds(text: string): string {
  if (!text.includes('\r')) return text;
  return rewrite(text, (units) => {
    let to = 0;
    let last = 0;
    for (const unit of units) {
      if (unit !== LF || last !== CR) units[to++] = unit === CR ? LF : unit;
      last = unit;
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
