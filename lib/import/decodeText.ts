import { isUtf8 } from 'node:buffer';
import type { Caveat } from '../model/caveat';
import type { BinaryKind } from '../words/en/refusals/texts';
import { makeCaveat } from '../words/makeCaveat';
import { makeRefusal } from '../words/makeRefusal';
import { withLineFeeds } from './rewriteText';

const TOO_MANY_BYTES = 1 << 28; // the longest string of the engine is twice this
const LOOKED_AT = 1 << 14;
/** What a byte becomes that is no UTF-8. */
const BROKEN = 0xfffd;
const [LF, CR] = [10, 13];
/** Rows are short; what goes on for so long without a line end is none. */
const LONGEST_START = 1 << 20;
const SIGNATURES: [BinaryKind, number[]][] = [
  ['zip', [0x50, 0x4b, 3, 4]],
  ['office', [0xd0, 0xcf, 0x11, 0xe0]],
  ['pdf', [0x25, 0x50, 0x44, 0x46, 0x2d]],
  ['riff', [0x52, 0x49, 0x46, 0x46]],
  ['png', [0x89, 0x50, 0x4e, 0x47]],
  ['jpeg', [0xff, 0xd8, 0xff]],
  ['gzip', [0x1f, 0x8b]],
];

/**
 * Decode a text: byte order mark, else UTF-16 by where its zeros are, else UTF-8, else windows-1252.
 * Line ends become LF.
 *
 * @param source bytes, or text already decoded. @param called how messages call it.
 * @param encoding the encoding where it is known. @param notes guesses are added here.
 * @throws BassloomError `bad-source`, `empty`, `binary`, `html`, `too-large`, `no-lines`.
 */
export function decodeText(source: unknown, called: string, encoding: string | undefined, notes: Caveat[]): string {
  if (typeof source !== 'string' && !(source instanceof Uint8Array)) {
    throw makeRefusal('bad-source', { label: called, of: 'text' }, { field: 'source' });
  }
  if (source.length > TOO_MANY_BYTES) {
    throw makeRefusal('too-large', { label: called, mostMib: TOO_MANY_BYTES / 2 ** 20 });
  }
  let text = typeof source === 'string' ? source : decodeBytes(source, called, encoding, notes);
  text = text.replace(/^\ufeff/, '');
  text = withLineFeeds(text);
  checkText(text, called);
  return text;
}

function decodeBytes(bytes: Uint8Array, called: string, encoding: string | undefined, notes: Caveat[]): string {
  const kind = SIGNATURES.find(([, start]) => start.every((byte, i) => bytes[i] === byte))?.[0];
  if (kind) throw makeRefusal('binary', { label: called, kind });
  if (encoding !== undefined) return new TextDecoder(encoding).decode(bytes);
  const marked =
    bytes[0] === 0xff && bytes[1] === 0xfe ? 'utf-16le' : bytes[0] === 0xfe && bytes[1] === 0xff && 'utf-16be';
  if (marked) {
    notes.push(makeCaveat('encoding-found', 'remark', { encoding: marked.toUpperCase(), by: 'mark' }));
    return new TextDecoder(marked).decode(bytes);
  }
  const wide = utf16ByZeros(bytes);
  if (wide) {
    notes.push(makeCaveat('encoding-found', 'remark', { encoding: wide.toUpperCase(), by: 'zeros' }));
    return new TextDecoder(wide).decode(bytes);
  }
  return decodeNarrow(bytes, called, notes);
}

/** Digits and separators have one zero byte each in UTF-16, always on the same side. */
function utf16ByZeros(bytes: Uint8Array): 'utf-16le' | 'utf-16be' | undefined {
  const pairs = Math.min(bytes.length, LOOKED_AT) >> 1;
  if (!bytes.subarray(0, 2 * pairs).includes(0)) return undefined;
  let even = 0;
  let odd = 0;
  for (let i = 0; i < pairs; i++) {
    if (bytes[2 * i] === 0) even++;
    if (bytes[2 * i + 1] === 0) odd++;
  }
  if (odd > 0.5 * pairs && even < 0.05 * pairs) return 'utf-16le';
  if (even > 0.5 * pairs && odd < 0.05 * pairs) return 'utf-16be';
  return undefined;
}

function decodeNarrow(bytes: Uint8Array, called: string, notes: Caveat[]): string {
  const start = bytes.subarray(0, LONGEST_START);
  if (bytes.length > LONGEST_START && !start.includes(LF) && !start.includes(CR)) refuseEndless(called);
  if (isUtf8(bytes)) return new TextDecoder('utf-8').decode(bytes);
  const { broken, whole, firstLine } = countBroken(bytes);
  if (whole <= broken) {
    notes.push(makeCaveat('encoding-found', 'remark', { encoding: 'windows-1252', by: 'bytes' }));
    return new TextDecoder('windows-1252').decode(bytes);
  }
  notes.push(makeCaveat('characters-broken', 'remark', { count: broken }, { lines: [firstLine] }));
  return new TextDecoder('utf-8').decode(bytes);
}

/** How many characters are no UTF-8, and how many beyond ASCII are, piece by piece. */
function countBroken(bytes: Uint8Array): { broken: number; whole: number; firstLine: number } {
  const decoder = new TextDecoder('utf-8');
  let [broken, whole, lines, firstLine] = [0, 0, 1, 0];
  for (let from = 0; from < bytes.length; from += LONGEST_START) {
    const text = decoder.decode(bytes.subarray(from, from + LONGEST_START), {
      stream: from + LONGEST_START < bytes.length,
    });
    for (let i = 0; i < text.length; i++) {
      const code = text.charCodeAt(i);
      if (code === BROKEN) {
        broken++;
        firstLine ||= lines;
      } else if (code >= 0x80) whole++;
      else if (code === LF) lines++;
    }
  }
  return { broken, whole, firstLine };
}

function refuseEndless(called: string): never {
  throw makeRefusal('no-lines', { label: called });
}

function checkText(text: string, called: string): void {
  if (!/\S/.test(text)) throw makeRefusal('empty', { label: called });
  const start = text.slice(0, LOOKED_AT);
  if (text.includes('\0') || controlCount(start) > 0.02 * start.length) {
    throw makeRefusal('binary', { label: called, kind: null });
  }
  if (text.length > LONGEST_START && !text.slice(0, LONGEST_START).includes('\n')) refuseEndless(called);
  const head = start.slice(0, 2000).trimStart().toLowerCase();
  if (head.startsWith('<?xml') || head.startsWith('<!doctype') || head.includes('<html')) {
    throw makeRefusal('html', { label: called });
  }
}

/** Control characters other than white space, end-of-file (Ctrl-Z) and escape. */
function controlCount(text: string): number {
  let count = 0;
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code < 9 || (code > 13 && code < 26) || (code > 27 && code < 32) || code === 127) count++;
  }
  return count;
}
