import { BassloomError } from '../model/errors';
import { pathParts, withoutExtension } from './filePath';

/** Fields a pattern may hold. */
export const NAME_FIELDS = [
  'device',
  'setting',
  'driveDb',
  'step',
  'position',
  'takenAt',
  'procedure',
  'distanceM',
] as const;
export type NameField = (typeof NAME_FIELDS)[number];

/** A piece of a pattern: text to be met as it is, or a field; '*' is anything, also nothing. */
export type PatternPiece = { literal: string } | { field: NameField | '*' };

/**
 * Take a pattern apart, one list of pieces for each part of the path.
 *
 * @throws BassloomError `bad-pattern`: a field that is unknown, doubled or not closed, two fields with nothing
 * between them, {step} beside {driveDb}, or nothing at all.
 */
export function parseNamePattern(pattern: string): PatternPiece[][] {
  const parts = pathParts(pattern);
  if (parts.length === 0) bad(pattern, 'it is empty');
  parts.push(withoutExtension(parts.pop() as string));
  const pieces = parts.map((part) => piecesOf(part, pattern));
  const seen = new Set<string>();
  for (const piece of pieces.flat()) {
    if (!('field' in piece) || piece.field === '*') continue;
    if (seen.has(piece.field)) bad(pattern, `{${piece.field}} stands in it twice`);
    seen.add(piece.field);
  }
  if (seen.has('step') && seen.has('driveDb')) bad(pattern, '{step} and {driveDb} both give the drive; keep one');
  return pieces;
}

function piecesOf(part: string, pattern: string): PatternPiece[] {
  const pieces: PatternPiece[] = [];
  for (const text of part.split(/(\{[^{}]*\})/)) {
    if (text === '') continue;
    if (!text.startsWith('{')) {
      if (/[{}]/.test(text)) bad(pattern, 'a brace is not closed or not opened');
      pieces.push({ literal: text });
      continue;
    }
    const field = text.slice(1, -1).trim();
    if (!isField(field))
      bad(pattern, `{${field}} is not known; known are ${NAME_FIELDS.map((f) => `{${f}}`).join(', ')} and {*}`);
    const last = pieces.at(-1);
    if (last && 'field' in last)
      bad(pattern, `nothing stands between {${last.field}} and {${field}}, so where one ends is unknown`);
    pieces.push({ field });
  }
  return pieces;
}

function isField(field: string): field is NameField | '*' {
  return field === '*' || (NAME_FIELDS as readonly string[]).includes(field);
}

function bad(pattern: string, why: string): never {
  throw new BassloomError('bad-pattern', `Name pattern '${pattern}': ${why}.`, { field: 'namePattern' });
}
