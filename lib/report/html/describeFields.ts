import { NO_BREAK } from '../../words/format';
import { type ReportWords, reportWords } from '../../words/reportWords';
import { plainName } from '../text';

/** Units that field names end in, longest first. */
const UNITS: [suffix: string, unit: string][] = [
  ['DbPerOctave', 'dB/octave'],
  ['Dbfs', 'dBFS'],
  ['Db', 'dB'],
  ['Hz', 'Hz'],
  ['Ms', 'ms'],
  ['M', 'm'],
  ['C', '°C'],
  ['S', 's'],
];

/**
 * Describe an object of settings for people: field names carry their units, so they can be read out.
 *
 * @param leaveOut names of fields that say nothing to a reader.
 *
 * @example
 * describeFields({ distanceM: 2, stepDb: 3 }) // [['Distance', '2 m'], ['Step', '3 dB']]
 */
export function describeFields(
  fields: object | undefined,
  leaveOut: string[] = [],
  language: ReportWords = reportWords(),
): [name: string, text: string][] {
  return Object.entries(joinEnds(fields ?? {})).flatMap(([key, value]): [string, string][] => {
    if (leaveOut.includes(key) || key.startsWith('_') || value === undefined || value === null || value === '')
      return [];
    const { name, unit } = fieldName(key);
    const text = valueText(value, unit, key, language);
    return text === '' ? [] : [[name, text]];
  });
}

/** What a field is called, and the unit that its name ends in. */
export function fieldName(key: string): { name: string; unit: string } {
  const [suffix, unit] = UNITS.find(([ending]) => key.length > ending.length && key.endsWith(ending)) ?? ['', ''];
  return { name: words(key.slice(0, key.length - suffix.length)), unit };
}

/** `xLowHz` and `xHighHz` are the ends of one band. */
function joinEnds(fields: object): Record<string, unknown> {
  const all = fields as Record<string, unknown>;
  const isNumber = (value: unknown) => typeof value === 'number' && Number.isFinite(value);
  const pairs = Object.keys(all).flatMap((key) => {
    const high = key.replace(/LowHz$/, 'HighHz');
    return high !== key && isNumber(all[key]) && isNumber(all[high]) ? [{ low: key, high }] : [];
  });
  return Object.fromEntries(
    Object.entries(all).flatMap(([key, value]): [string, unknown][] => {
      if (pairs.some(({ high }) => high === key)) return [];
      const pair = pairs.find(({ low }) => low === key);
      return [pair ? [key.replace(/LowHz$/, 'BandHz'), [value, all[pair.high]]] : [key, value]];
    }),
  );
}

function words(camelCase: string): string {
  const spaced = plainName(camelCase.replace(/([a-z0-9])([A-Z])/g, (_, a, b) => `${a} ${b.toLowerCase()}`));
  return spaced.charAt(0).toUpperCase() + spaced.slice(1);
}

function valueText(value: unknown, unit: string, key: string, language: ReportWords): string {
  const { methodTable } = language.page;
  const textOf = (one: unknown): string => plainText(one, language);
  if (key === 'smoothing' && Number(value) > 0) return methodTable.octave(textOf(value));
  if (Array.isArray(value) && unit === 'Hz' && value.length === 2)
    return `${textOf(value[0])}–${textOf(value[1])}${NO_BREAK}Hz`;
  if (Array.isArray(value) && unit === '' && value.length === 3 && value.every(Number.isFinite)) {
    return `${value.map((one) => `${textOf(one)}${NO_BREAK}m`).join(', ')} ${methodTable.size}`;
  }
  const text = textOf(value);
  return text !== '' && unit ? `${text}${NO_BREAK}${unit}` : text;
}

function plainText(value: unknown, language: ReportWords): string {
  const { methodTable } = language.page;
  if (typeof value === 'number') return Number.isFinite(value) ? language.say.short(value, 3) : '';
  if (typeof value === 'string') return plainName(value);
  if (typeof value === 'boolean') return value ? methodTable.fieldYes : methodTable.fieldNo;
  if (Array.isArray(value))
    return value
      .map((one) => plainText(one, language))
      .filter(Boolean)
      .join(', ');
  return '';
}
