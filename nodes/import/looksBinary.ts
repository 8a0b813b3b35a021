/** Byte order marks of UTF-16, either way round. */
const MARKS = ['fffe', 'feff'];
/** A block of that many bytes without a line end is no table: rows of a few hundred columns fit. */
const LONGEST_LINE = 65536;

/**
 * Say why the first block of a file cannot be a table of numbers, if that is so: control characters, or no line end.
 *
 * Compressed sound and pictures have one control character in ten bytes, text has none; every other byte of UTF-16 may
 * be zero.
 *
 * @param block at most {@link FIRST_BLOCK} bytes. @param size of the whole file, bytes.
 */
export function looksBinary(block: Uint8Array, size: number): string | undefined {
  const isWide = MARKS.includes(Buffer.from(block.subarray(0, 2)).toString('hex')) || hasZerosOnOneSide(block);
  let controls = 0;
  let hasLineEnd = false;
  for (const byte of block) {
    if (byte === 10 || byte === 13) hasLineEnd = true;
    else if (byte < 9 || (byte > 13 && byte < 32 && byte !== 27 && byte !== 26))
      controls += isWide && byte === 0 ? 0 : 1;
  }
  if (controls > block.length / 100) return 'it holds bytes that no text has';
  if (!hasLineEnd && block.length >= LONGEST_LINE && size > LONGEST_LINE) return 'its first 64 kB hold no line end';
  return undefined;
}

/** How much of a file is looked at, bytes. */
export const FIRST_BLOCK = LONGEST_LINE;

/** UTF-16 without a mark: of plain letters one byte in two is zero, and always the same one. */
function hasZerosOnOneSide(block: Uint8Array): boolean {
  const zeros = [0, 0];
  for (const [i, byte] of block.entries()) if (byte === 0) zeros[i % 2]++;
  return Math.max(...zeros) > block.length / 4 && Math.min(...zeros) < block.length / 100;
}
