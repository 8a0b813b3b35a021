import type { CaveatValue } from '../../../model/caveat';
import type { Format } from '../../format';
import { type Listed, numbered } from '../../numbered';
import type { Phrases, Place } from '../../phrase';
import { importing, type WhyDropped } from '../importing';

type OfText = { label: string };
type Split = OfText & { delimiter: string | null };

const BINARY = {
  zip: 'a spreadsheet or archive (ZIP)',
  office: 'an old spreadsheet or office document',
  pdf: 'a PDF',
  riff: 'a sound file (RIFF)',
  png: 'a picture (PNG)',
  jpeg: 'a picture (JPEG)',
  gzip: 'compressed (gzip)',
};

/** What a file that is no text is, told by its first bytes. */
export type BinaryKind = keyof typeof BINARY;

function at({ label }: OfText, { line }: Place): string {
  return line === undefined ? label : `${label}, line ${line}`;
}

function split({ delimiter }: Split): string {
  return delimiter === null ? '' : ` with '${delimiter}' as delimiter`;
}

function headings(values: Listed): string {
  return numbered<string>(values, 'heading')
    .map((heading) => `'${heading}'`)
    .join(', ');
}

function dropped(values: Listed): string {
  const [counts, ofs, lines] = ['count', 'of', 'line'].map((name) => numbered<number>(values, name));
  return numbered<WhyDropped>(values, 'why')
    .map((why, k) => ` ${importing['rows-dropped']({ count: counts[k], of: ofs[k], why }, { lines: [lines[k]] })}`)
    .join('');
}

type Pattern = {
  pattern: string;
  why: 'empty' | 'twice' | 'two drives' | 'brace' | 'unknown' | 'nothing between';
  field?: string;
  next?: string;
  /** known1, known2, ...: the fields there are. */
  [known: `known${number}`]: CaveatValue;
};

function patternFault(values: Pattern): string {
  const { field, next } = values;
  switch (values.why) {
    case 'empty':
      return 'it is empty';
    case 'twice':
      return `{${field}} stands in it twice`;
    case 'two drives':
      return '{step} and {driveDb} both give the drive; keep one';
    case 'brace':
      return 'a brace is not closed or not opened';
    case 'unknown':
      return `{${field}} is not known; known are ${numbered<string>(values as Listed, 'known')
        .map((known) => `{${known}}`)
        .join(', ')} and {*}`;
    case 'nothing between':
      return `nothing stands between {${field}} and {${next}}, so where one ends is unknown`;
  }
}

/** Texts that hold no curve, and how they are to be read. */
export const texts = {
  empty: (values: OfText, where: Place) => `${at(values, where)}: there is nothing in it. Export it again.`,
  binary: (values: OfText & { kind: BinaryKind | null }, where: Place) =>
    `${at(values, where)}: this is ${values.kind === null ? 'not text' : `${BINARY[values.kind]}, not text`}; export the response as delimited text.`,
  html: (values: OfText, where: Place) =>
    `${at(values, where)}: this is a web page or other markup; save the file itself, as delimited text.`,
  'no-lines': (values: OfText, where: Place) =>
    `${at(values, where)}: its first million characters are one line; a measurement has a line for each frequency.`,
  'one-column': (values: Split, where: Place) =>
    `${at(values, where)}: only one column of numbers${split(values)}; a frequency and its level are needed.`,
  'header-only': (values: OfText, where: Place) =>
    `${at(values, where)}: there is a heading but no data below it. Export it again.`,
  'nothing-numeric': (values: Split & { why: 'rows' | 'columns' }, where: Place) =>
    values.why === 'columns'
      ? `${at(values, where)}: no column holds numbers in most rows.`
      : `${at(values, where)}: no rows of numbers found${split(values)}; each needs a frequency and a level, without units.`,
  'no-level-column': (values: OfText & Listed, where: Place) =>
    `${at(values, where)}: the columns are ${headings(values)}, and none of them is a level; if one is, name it in \`columns\`.`,
  'column-not-found': (
    values: OfText &
      Listed & {
        asked: string | number;
        kind: 'frequency' | 'level' | 'phase' | 'noise';
        columns: number;
        headingLine: number | null;
      },
    _where: Place,
    say: Format,
  ) => {
    const found =
      values.headingLine === null
        ? 'no headings were found'
        : `the headings in line ${values.headingLine} are ${headings(values)}`;
    return `${values.label}: there is no column '${values.asked}' for the ${values.kind}; the text has ${say.count(values.columns, 'column')}, and ${found}. Give a heading, or a number from 1.`;
  },
  'level-out-of-range': (values: OfText & { levelDb: number }, where: Place, say: Format) =>
    `${at(values, where)}: the level is ${say.exact(values.levelDb, 'dB')}, outside ${say.exact(-300)} to ${say.exact(300, 'dB')}; choose another column with \`columns\`, or say with \`levelUnit\` what the numbers are.`,
  'too-many-points': (values: OfText & { most: number }, where: Place) =>
    `${at(values, where)}: more than ${values.most} points; export fewer, or raise maxPoints.`,
  'too-many-lines': (values: OfText & { most: number }, where: Place) =>
    `${at(values, where)}: more than ${values.most} lines hold no point, so this is probably not a measurement. Export the response as delimited text.`,
  'several-curves': (values: OfText, where: Place) =>
    `${at(values, where)}: the frequencies start again below a second heading; put each curve into a file of its own.`,
  'thousands-separators': (values: OfText, where: Place) =>
    `${at(values, where)}: commas both separate the columns and group thousands; export without thousands separators, or with another delimiter.`,
  'ambiguous-decimal': (values: OfText, where: Place) =>
    `${at(values, where)}: commas seem to be both the delimiter and the decimal sign; export with another delimiter or with decimal points. If the columns do hold whole numbers, set the delimiter to a comma.`,
  'unknown-encoding': ({ encoding }: { encoding: string }) =>
    `The encoding '${encoding}' is not known; give one such as 'utf-8', 'utf-16le' or 'windows-1252', or none.`,
  'contradictory-options': (values: { delimiter: string } | { label: string; column: number }) =>
    'label' in values
      ? `${values.label}: column ${values.column} cannot be both the frequency and the level.`
      : `'${values.delimiter}' cannot be both the delimiter and the decimal sign; change one of the two.`,
  'bad-pattern': (values: Pattern) => `Name pattern '${values.pattern}': ${patternFault(values)}.`,
} satisfies Phrases;

/** A text of which too little is left. */
export function tooFewRows(values: OfText & Listed & { points: number }, where: Place, say: Format): string {
  return `${at(values, where)}: ${say.count(values.points, 'usable point')}; a curve needs at least 2.${dropped(values)}`;
}
