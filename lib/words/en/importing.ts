import type { CaveatPlace } from '../../model/caveat';
import type { TextImport } from '../../model/step';
import type { Format } from '../format';
import type { Phrases } from '../phrase';

const DELIMITERS: Record<string, string> = { ',': 'commas', ';': 'semicolons', '\t': 'tabs', ' ': 'blanks' };
const FIELDS: Record<string, string> = { driveDb: 'the drive', step: 'the step', distanceM: 'the distance' };
const WHY_DROPPED = {
  'frequency-not-positive': 'the frequency is not above 0',
  'frequency-missing': 'the frequency is missing or not a number',
  'level-missing': 'the level is missing or not a number',
  'level-not-positive': 'the level is not above 0, as linear units need',
  'phase-missing': 'the phase is missing or not a number',
  'noise-missing': 'the noise is missing or not a number',
  'too-many-columns': 'more columns than in other rows',
  'too-few-columns': 'fewer columns than in other rows',
  'words-in-row': 'words where other rows have none',
  'above-heading': 'they stand above the heading',
  'out-of-order': 'all others rise, so they seem to be no points; if they are, sort the file by frequency',
};

/** Why a row of a text was not used. */
export type WhyDropped = keyof typeof WHY_DROPPED;
/** Who decided on a unit. */
type From = 'heading' | 'assumed';
type FrequencyUnit = TextImport['frequencyUnit'];
type LevelUnit = TextImport['levelUnit'];

/** ' (lines 3, 9)'; only the first lines are kept where there are many. */
function lines({ lines: some = [] }: CaveatPlace, count: number): string {
  if (some.length === 0) return '';
  return ` (line${count === 1 ? '' : 's'} ${some.join(', ')}${count > some.length ? ' and more' : ''})`;
}

function columns(values: Record<string, string | number | null>, { lines: heading }: CaveatPlace, say: Format): string {
  const chosen = ['frequency', 'level', 'phase', 'noise']
    .filter((kind) => values[kind] !== null)
    .map((kind) => {
      const text = values[`${kind}Heading`];
      return `${kind} from column ${values[kind]}${text === null ? '' : ` '${text}'`}`;
    });
  const how = heading ? `headings in line ${heading[0]}` : 'no headings, judged by their numbers';
  return `Columns: ${say.list(chosen)} (${how})${values.unused === null ? '' : `; not used: column ${values.unused}`}.`;
}

/** Import of text, WAV and file names. */
export const importing = {
  'encoding-found': ({ encoding, by }: { encoding: string; by: 'mark' | 'zeros' | 'bytes' }) => {
    if (by === 'mark') return `Encoding: ${encoding}, by its byte order mark.`;
    return by === 'zeros'
      ? `Encoding: ${encoding}, judged by its zero bytes; there is no byte order mark.`
      : `Encoding: ${encoding}, since the bytes are not valid UTF-8.`;
  },
  'characters-broken': ({ count }: { count: number }, where, say) =>
    `Encoding: UTF-8, with ${say.count(count, 'broken character')}${lines(where, count)}.`,
  'blanks-replaced': (_values: Record<string, never>, { lines: [first] = [] }) =>
    `No-break and other special blanks were read as plain ones, first in line ${first}.`,
  'delimiter-found': ({ delimiter }: { delimiter: string }) =>
    `Columns are separated by ${DELIMITERS[delimiter] ?? `'${delimiter}'`}.`,
  'decimal-sign-found': ({ sign, met }: { sign: '.' | ','; met: boolean }) =>
    `Decimal sign: ${sign === '.' ? 'point' : 'comma'}${met ? '' : ', assumed; the lines looked at have no decimals'}.`,
  'decimal-sign-unsure': ({ sign, taken }: { sign: '.' | ','; taken: 'decimal' | 'thousands' }) =>
    taken === 'decimal'
      ? `'${sign}' was read as the decimal sign, but could also group thousands; if it does, set the decimal sign to '${sign === ',' ? '.' : ','}'.`
      : `'${sign}' was read as grouping thousands, but could also be the decimal sign; if it is, set the decimal sign to '${sign}'.`,
  'decimals-unsure': () =>
    'No number has a decimal point; if the last comma of each line is a decimal sign, export with another delimiter.',
  'decimal-comma-late': (_values: Record<string, never>, { lines: [first] = [] }) =>
    `Decimal sign: comma, first met in line ${first}.`,
  'row-numbers-left-out': ({ column }: { column: number }) =>
    `Column ${column} was left out: it seems to number the rows.`,
  'columns-chosen': (
    values: {
      frequency: number;
      frequencyHeading: string | null;
      level: number;
      levelHeading: string | null;
      phase: number | null;
      phaseHeading: string | null;
      noise: number | null;
      noiseHeading: string | null;
      /** Numbers of columns. */
      unused: string | null;
    },
    where,
    say,
  ) => columns(values, where, say),
  'columns-alike': ({ kind, taken, others }: { kind: 'level' | 'phase'; taken: number; others: string }) =>
    `Several columns could be the ${kind}: column ${taken} was taken, not column ${others}; if that is wrong, set the ${kind} column.`,
  'frequency-column-unsure': ({ taken, others, rises }: { taken: number; others: string; rises: boolean }) =>
    rises
      ? `Column ${taken} was taken for the frequency, but column ${others} rises or falls all along as well; if that is the frequency, set the frequency column.`
      : `No column rises from row to row: column ${taken} was taken for the frequency, not column ${others}; if that is wrong, set the frequency column.`,
  'phase-column-unsure': ({ level, phase }: { level: number; phase: number }) =>
    `Columns ${level} and ${phase} were taken for level and phase, as there is no heading, but do not look like them; if they are something else (another level, distortion, real and imaginary part), set the columns.`,
  'heading-passed-over': (_values: Record<string, never>, { lines: [first] = [] }) =>
    `Line ${first} could be the heading, but does not fit the data below it, so it was not read; if it is, check the columns and units, and set those that are wrong.`,
  'frequency-unit': ({ unit, from }: { unit: FrequencyUnit; from: From }) =>
    `Frequency unit: ${unit}, ${from === 'heading' ? 'as the heading says' : 'assumed'}${unit === 'Hz' ? '' : '; converted to Hz'}.`,
  'frequency-unit-odd': ({ unit, heading }: { unit: FrequencyUnit; heading: string }) =>
    `Frequencies were read in ${unit}, but the heading says '${heading}'${/^mhz$/i.test(heading) ? ', which could be mHz or MHz' : ', which is not known as a unit'}; if it is wrong, convert them to Hz.`,
  'frequency-unit-against-heading': ({ unit, heading }: { unit: FrequencyUnit; heading: FrequencyUnit }) =>
    `Frequency unit: ${unit} as set, although the heading says ${heading}; check which is right.`,
  'frequency-unit-unsure': ({ fromHz, toHz }: { fromHz: number; toHz: number }, _where, say) =>
    `Frequencies run from ${say.hertz(fromHz)} to ${say.hz(toHz)}; if they are in kHz, set the frequency unit.`,
  'level-unit': ({ unit, from }: { unit: LevelUnit; from: From }) =>
    `Level unit: ${unit}, ${from === 'heading' ? 'as the heading says' : 'assumed'}${unit === 'dB' ? '' : '; converted to dB as 20 lg'}.`,
  'level-unit-unsure': (
    { column, lowest, highest, look }: { column: number; lowest: number; highest: number; look: 'magnitude' | 'wide' },
    _where,
    say,
  ) =>
    `Column ${column} was read as levels in dB, but nothing says so, and its numbers run from ${say.short(lowest, 4)} to ${say.short(highest, 4)}, ${
      look === 'magnitude' ? 'as magnitudes or percentages do' : 'too far for levels'
    }; if they are levels, set the level unit to dB, if linear, to linear; if neither, set the level column.`,
  'level-scale': ({ scale, from }: { scale: 'spl' | 'relative'; from: 'text' | 'assumed' }) =>
    `Scale: ${scale === 'spl' ? 'sound pressure level' : 'relative'}, ${
      from === 'text' ? 'as the text says' : 'since nothing says that 0 dB is 20 µPa'
    }.`,
  'phase-in-radians': () => 'Phase was converted from radians to degrees.',
  'rows-dropped': ({ count, of, why }: { count: number; of: number; why: WhyDropped }, where) =>
    `${count} of ${of} rows dropped: ${WHY_DROPPED[why]}${lines(where, count)}.`,
  'long-lines-dropped': ({ count }: { count: number }, where, say) =>
    `${say.count(count, 'line')} dropped: too long to be data${lines(where, count)}.`,
  'text-skipped': ({ count }: { count: number }, where, say) =>
    `${say.count(count, 'line')} of text between or after the data skipped${lines(where, count)}.`,
  'thousands-separators-removed': ({ count }: { count: number }, where, say) =>
    `${say.count(count, 'row')} repaired: thousands separators removed${lines(where, count)}.`,
  'column-left-out': ({ column, missing, of }: { column: 'phase' | 'noise'; missing: number; of: number }, where) =>
    `The ${column} column was left out: ${missing} of ${of} rows have no number there${lines(where, missing)}.`,
  'rows-sorted': (_values: Record<string, never>, { lines: [first] = [] }) =>
    `Rows were sorted by frequency; line ${first} is the first out of order.`,
  'rows-start-again': ({ turns }: { turns: number }, { lines: [first] = [] }, say) =>
    `The frequencies turn back ${say.count(turns, 'time')}, first in line ${first}, as where a file holds several curves; all rows were read as one. If they are several, put each into a file of its own.`,
  'row-apart': ({ hz, db }: { hz: number; db: number }, { lines: [first] = [] }, say) =>
    `Line ${first} (${say.hz(hz)}, ${say.db(db)}) stands far from all other frequencies; if it is not a measured point, delete it.`,
  'frequencies-merged': ({ count, firstHz }: { count: number; firstHz: number }, where, say) =>
    `${say.count(count, 'frequency appears', 'frequencies appear')} more than once, first ${say.hz(firstHz)}${lines(where, where.lines?.length ?? 0)}; their levels were averaged as power.`,
  'frequencies-merged-unlike': (
    { count, firstHz, spreadDb }: { count: number; firstHz: number; spreadDb: number },
    where,
    say,
  ) =>
    `${say.count(count, 'frequency appears', 'frequencies appear')} more than once, first ${say.hz(firstHz)}${lines(where, where.lines?.length ?? 0)}, with levels up to ${say.db(spreadDb)} apart; they were averaged as power. If the file holds two curves, put each into a file of its own.`,
  'name-off-pattern': ({ name, pattern }: { name: string; pattern: string }) =>
    `The name '${name}' does not follow the pattern '${pattern}'; unit, setting and drive were not read from it.`,
  'name-without-date': ({ name, text }: { name: string; text: string }) =>
    `The name '${name}' has '${text}' where the date should stand; the run is undated.`,
  'name-without-number': ({ name, text, field }: { name: string; text: string; field: string }) =>
    `The name '${name}' has '${text}' where ${FIELDS[field] ?? field} should stand as a number; rename the file, or change the pattern.`,
  'several-channels': ({ channels }: { channels: number }) =>
    `The recording has ${channels} channels; analyses use the first unless another is chosen.`,
  'no-correction': () => 'No microphone correction was applied: none was given.',
} satisfies Phrases;
