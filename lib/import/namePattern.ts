import { makeRefusal, type RefusalValues } from '../words/makeRefusal';
import { asNumbered } from '../words/numbered';
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
  if (parts.length === 0) bad(pattern, { why: 'empty' });
  parts.push(withoutExtension(parts.pop() as string));
  const pieces = parts.map((part) => piecesOf(part, pattern));
  const seen = new Set<string>();
  for (const piece of pieces.flat()) {
    if (!('field' in piece) || piece.field === '*') continue;
    if (seen.has(piece.field)) bad(pattern, { why: 'twice', field: piece.field });
    seen.add(piece.field);
  }
  if (seen.has('step') && seen.has('driveDb')) bad(pattern, { why: 'two drives' });
  return pieces;
}

function piecesOf(part: string, pattern: string): PatternPiece[] {
  const pieces: PatternPiece[] = [];
  for (const text of part.split(/(\{[^{}]*\})/)) {
    if (text === '') continue;
    if (!text.startsWith('{')) {
      if (/[{}]/.test(text)) bad(pattern, { why: 'brace' });
      pieces.push({ literal: text });
      continue;
    }
    const field = text.slice(1, -1).trim();
    if (!isField(field)) bad(pattern, { why: 'unknown', field, ...asNumbered({ known: NAME_FIELDS }) });
    const last = pieces.at(-1);
    if (last && 'field' in last) bad(pattern, { why: 'nothing between', field: last.field, next: field });
    pieces.push({ field });
  }
  return pieces;
}

function isField(field: string): field is NameField | '*' {
  return field === '*' || (NAME_FIELDS as readonly string[]).includes(field);
}

function bad(pattern: string, values: Omit<RefusalValues<'bad-pattern'>, 'pattern'>): never {
  throw makeRefusal('bad-pattern', { pattern, ...values } as RefusalValues<'bad-pattern'>, { field: 'namePattern' });
}
