import { BassloomError } from '../model/errors';
import { pathParts, withoutExtension } from './filePath';
import { readFileName } from './readFileName';

interface Word {
  text: string;
  /** What stands before the number in it, the number, and what stands behind. */
  before: string;
  number: string;
  behind: string;
}

/**
 * Propose a name pattern for files that have names of one build, from what changes from name to name: the number that
 * takes the most values is the drive, a word that changes the setting, the first word that does not the unit, with the
 * number beside it that all files share.
 *
 * @param names file names with no path that matters; those of another build than most are left out of account.
 * @returns none where no number changes from name to name, or fewer than two names are built alike.
 *
 * @example
 * suggestPattern(['Sub12 flat -06dB.txt', 'Sub12 flat -03dB.txt', 'Sub12 deep -03dB.txt']) // '{device} {setting} {driveDb}dB'
 */
export function suggestPattern(names: readonly string[]): string | undefined {
  // commas, or hyphens between blanks, part names that have blanks of their own
  const coarse = patternBetween(names, /(\s*[,;]\s*|\s+[-\u2013]\s+)/);
  return coarse?.includes('{device}') ? coarse : patternBetween(names, /([\s_,;]+|-(?!\d))/);
}

function patternBetween(names: readonly string[], separator: RegExp): string | undefined {
  const builds = new Map<string, { name: string; words: Word[] }[]>();
  for (const name of names) {
    const parts = withoutExtension(pathParts(name).at(-1) ?? '').split(separator);
    const build = parts.filter((_, i) => i % 2 === 1).join('|');
    const words = parts.filter((_, i) => i % 2 === 0).map(wordOf);
    builds.set(build, [...(builds.get(build) ?? []), { name, words }]);
  }
  const [common] = [...builds].sort((a, b) => b[1].length - a[1].length);
  if (!common || common[1].length < 2) return undefined;
  const [build, rows] = common;
  const separators = build === '' ? [] : build.split('|');
  const columns = rows[0].words.map((_, i) => rows.map(({ words }) => words[i]));
  const drive = driveColumn(columns);
  if (drive === undefined) return undefined;
  const varies = columns.map((column, i) => i !== drive && new Set(column.map(({ text }) => text)).size > 1);
  const device = varies.findIndex((isVarying, i) => !isVarying && i !== drive);
  // 'Box 7' is one unit, if the pattern reads it so
  const last = lastOfDevice(columns, varies, device, drive);
  const whole = columns
    .slice(device, last + 1)
    .map(([{ text }], i) => (i > 0 ? separators[device + i - 1] : '') + text);
  const wide = patternOf(columns, separators, varies, drive, [device, last]);
  const isRead = rows.every(({ name }) => deviceIn(name, wide) === whole.join(''));
  return last === device || isRead ? wide : patternOf(columns, separators, varies, drive, [device, device]);
}

/** The unit reaches from its first word over the numbers behind it, and over a word behind a number that it begins with. */
function lastOfDevice(columns: Word[][], varies: boolean[], device: number, drive: number): number {
  const isBare = (i: number) => /^\d/.test(columns[i][0].text);
  let last = device;
  const canReach = (i: number) => device >= 0 && i < columns.length && i !== drive && !varies[i];
  while (canReach(last + 1) && (isBare(last + 1) || (last === device && isBare(last)))) last++;
  return last;
}

function deviceIn(name: string, pattern: string): string | undefined {
  try {
    return readFileName(name, pattern).about.device;
  } catch (problem) {
    // a name with braces in it, say
    if (problem instanceof BassloomError) return undefined;
    throw problem;
  }
}

function patternOf(
  columns: Word[][],
  separators: string[],
  varies: boolean[],
  drive: number,
  [device, last]: [number, number],
): string {
  const free = ['setting', 'position'];
  const pieces = columns.map((column, i) => {
    const { text, before, behind } = column[0];
    if (i === drive) return `${before}{${isDb(column) ? 'driveDb' : 'step'}}${behind}`;
    if (i === device) return '{device}';
    if (i > device && i <= last) return '';
    // with no word that stays, the first one is the unit
    if (varies[i] && device < 0 && !free.includes('device') && free.length === 2) free.unshift('device');
    return varies[i] ? `{${free.shift() ?? '*'}}` : text;
  });
  return pieces.map((piece, i) => piece + (i >= device && i < last ? '' : (separators[i] ?? ''))).join('');
}

function wordOf(text: string): Word {
  const [, before = '', number = '', behind = ''] = /^(\D*?)([+-]?\d+(?:[.,]\d+)?)(\D*)$/.exec(text) ?? [];
  // after a letter it is a hyphen: 'step-03' is no drive of -3
  const isHyphen = before !== '' && number.startsWith('-');
  return isHyphen ? { text, before: `${before}-`, number: number.slice(1), behind } : { text, before, number, behind };
}

/** The column of numbers, alike but for the number, that takes the most values. */
function driveColumn(columns: Word[][]): number | undefined {
  const counts = columns.map((column) => {
    const isAlike = column.every(
      ({ number, before, behind }) => number !== '' && before === column[0].before && behind === column[0].behind,
    );
    return isAlike ? new Set(column.map(({ number }) => number)).size : 0;
  });
  const most = Math.max(...counts);
  return most > 1 ? counts.indexOf(most) : undefined;
}

function isDb(column: Word[]): boolean {
  return (
    /^dB/i.test(column[0].behind) || /dB$/i.test(column[0].before) || column.some(({ number }) => /^[+-]/.test(number))
  );
}
