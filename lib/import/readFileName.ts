import type { Caveat } from '../model/caveat';
import type { About } from '../model/curve';
import { makeCaveat } from '../words/makeCaveat';
import { makeRefusal } from '../words/makeRefusal';
import { pathParts, withoutExtension } from './filePath';
import { type NameField, type PatternPiece, parseNamePattern } from './namePattern';

/** What a file name says. */
export interface NameReading {
  /** Whether the name follows the pattern. */
  matches: boolean;
  about: About;
  /** What does not fit. */
  notes: Caveat[];
}

type Values = Map<NameField, string>;

const NUMERIC: NameField[] = ['driveDb', 'step', 'distanceM'];

/**
 * Read what a file name says about a run.
 *
 * @param name file name, with or without a path. @param pattern text with fields in braces: {device}, {setting},
 * {driveDb}, {step}, {position}, {takenAt}, {procedure}, {distanceM}, and {*} for anything. Other text must stand
 * there as it is, in any case. Slashes part directories; they are compared from the end. Extensions are ignored.
 * @param stepDb dB a step stands for: the drive is step * stepDb (step 0 is 0 dB, step 3 is 9 dB). Default 3.
 * @returns `about` with what was found; a name that does not follow the pattern is no error.
 * @throws BassloomError `bad-pattern`, `bad-option`.
 *
 * A field reaches to the next literal text, and is never empty. Where that leaves a number field without a
 * number, fields reach as far as they can instead, so that '{device}-{step}' reads 'sub-a-3'. Numbers may be
 * signed and have decimals ('-12', '+3', '4.5', '4,5'). takenAt is made ISO 8601. Time is linear in the name.
 *
 * @example
 * readFileName('unit A_flat_step-4.txt', '{device}_{setting}_step-{step}', 3).about
 * // { device: 'unit A', setting: 'flat', driveDb: 12 }
 */
export function readFileName(name: string, pattern: string, stepDb = 3): NameReading {
  if (!Number.isFinite(stepDb)) {
    throw makeRefusal('bad-option', { wanted: 'step-db', value: stepDb }, { field: 'stepDb' });
  }
  const wanted = parseNamePattern(pattern);
  const parts = pathParts(name);
  parts.push(withoutExtension(parts.pop() ?? ''));
  const values = parts.length < wanted.length ? undefined : matchParts(parts.slice(-wanted.length), wanted);
  if (!values) {
    return { matches: false, about: {}, notes: [makeCaveat('name-off-pattern', 'remark', { name, pattern })] };
  }
  const notes: Caveat[] = [];
  return { matches: true, about: aboutOf(values, stepDb, name, notes), notes };
}

function matchParts(parts: string[], wanted: PatternPiece[][]): Values | undefined {
  const lazy = parts.map((part, i) => matchPart(part, wanted[i], false));
  if (lazy.includes(undefined)) return undefined;
  const all = lazy.map((values, i) => {
    if (!lacksNumber(values as Values)) return values;
    const greedy = matchPart(parts[i], wanted[i], true);
    return greedy && !lacksNumber(greedy) ? greedy : values;
  });
  return new Map(all.flatMap((values) => [...(values as Values)]));
}

function lacksNumber(values: Values): boolean {
  return NUMERIC.some((field) => values.has(field) && numberIn(values.get(field)) === undefined);
}

/** Match one part of a path from its start, or mirrored from its end (then fields reach as far as they can). */
function matchPart(part: string, pieces: PatternPiece[], mirrored: boolean): Values | undefined {
  const turn = (text: string) => (mirrored ? [...text].reverse().join('') : text);
  const text = turn(part);
  const lower = lowerCase(text);
  const ordered = mirrored ? [...pieces].reverse() : pieces;
  const values: Values = new Map();
  let at = 0;
  let open: NameField | '*' | undefined;
  const close = (to: number): boolean => {
    if (open === undefined) return to === at;
    const value = turn(text.slice(at, to)).trim();
    if (open !== '*') values.set(open, value);
    const filled = value !== '' || open === '*';
    open = undefined;
    return filled;
  };
  for (const [i, piece] of ordered.entries()) {
    if ('field' in piece) {
      open = piece.field;
      continue;
    }
    const literal = lowerCase(turn(piece.literal));
    const earliest = open === undefined || open === '*' ? at : at + 1;
    const isLast = i === ordered.length - 1;
    let found = isLast ? text.length - literal.length : lower.indexOf(literal, earliest);
    // From the end, '--12' after a '-' is met as '12' first; the sign belongs to the number.
    const isSign = mirrored && NUMERIC.includes(open as NameField) && /[+\-\u2212]/.test(text[found] ?? '');
    if (isSign && !isLast && lower.startsWith(literal, found + 1)) found++;
    if (found < earliest || !lower.startsWith(literal, found) || !close(found)) return undefined;
    at = found + literal.length;
  }
  return close(text.length) ? values : undefined;
}

/** Lower case letter by letter, so that no letter changes its place. */
function lowerCase(text: string): string {
  return text.replace(/\p{Lu}/gu, (letter) =>
    letter.toLowerCase().length === letter.length ? letter.toLowerCase() : letter,
  );
}

function aboutOf(values: Values, stepDb: number, name: string, notes: Caveat[]): About {
  const about: About = {};
  for (const [field, value] of values) {
    if (field === 'takenAt') {
      const time = isoTime(value);
      if (time) about.takenAt = time;
      else notes.push(makeCaveat('name-without-date', 'doubt', { name, text: value }));
    } else if (field === 'driveDb' || field === 'step' || field === 'distanceM') {
      const number = numberIn(value);
      if (number === undefined || (field === 'distanceM' && number <= 0)) {
        notes.push(makeCaveat('name-without-number', 'doubt', { name, text: value, field }));
      } else if (field === 'step') about.driveDb = Number((number * stepDb).toPrecision(12));
      else about[field] = number;
    } else about[field] = value;
  }
  return about;
}

function numberIn(text: string | undefined): number | undefined {
  const clean = text?.replace(/^[\u2212\u2013]/, '-') ?? '';
  return /^[+-]?\d{1,15}(?:[.,]\d{1,15})?$/.test(clean) ? Number(clean.replace(',', '.')) : undefined;
}

/** Dates as file names hold them (with or without hyphens, no colons) as ISO 8601. */
function isoTime(text: string): string | undefined {
  const found = /^(\d{4})-?(\d\d)-?(\d\d)(?:[T_ -]?(\d\d)[:.h-]?(\d\d)(?:[:.m-]?(\d\d))?(Z?))?$/i.exec(text);
  if (!found) return undefined;
  const [, year, month, day, hour, minute, second, zone] = found;
  const iso = `${year}-${month}-${day}${hour ? `T${hour}:${minute}:${second ?? '00'}${zone.toUpperCase()}` : ''}`;
  const date = new Date(`${year}-${month}-${day}T${hour ?? '00'}:${minute ?? '00'}:${second ?? '00'}Z`);
  return !Number.isNaN(date.getTime()) && date.getUTCDate() === Number(day) ? iso : undefined;
}
