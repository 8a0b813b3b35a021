export type ColumnKind = 'frequency' | 'level' | 'phase' | 'noise';

/** What the heading of one column says. */
export interface HeadingCell {
  text: string;
  kind?: ColumnKind;
  /** The kind is known from the unit alone. */
  byUnit?: boolean;
  unit?: 'Hz' | 'kHz' | 'dB' | 'Pa' | 'linear' | 'deg' | 'rad';
  /** Names sound pressure level, so that levels are dB re 20 uPa. */
  spl?: boolean;
}

// Beginnings or parts of words, without accents, in the languages measuring is taught in. Words of
// up to three letters must match whole.
const WORDS: Record<ColumnKind | 'other', string[]> = {
  other: [
    'thd',
    'distor',
    'klirr',
    'harmon',
    'cohere',
    'koharen',
    'delay',
    'laufzeit',
    'retard',
    'impedan',
    'ohm',
    'date',
    'datum',
    'index',
  ],
  noise: [
    'noise',
    'rausch',
    'storpegel',
    'storger',
    'hintergrund',
    'background',
    'bruit',
    'rumore',
    'ruido',
    'ruis',
    'brus',
    'stoj',
    'szum',
    'kohina',
    '\u0448\u0443\u043c',
    '\u30ce\u30a4\u30ba',
    '\u9a12\u97f3',
    '\u566a\u58f0',
  ],
  phase: [
    'phas',
    'fase',
    'fas',
    'faza',
    'vaihe',
    'angle',
    'winkel',
    'phi',
    '\u0444\u0430\u0437',
    '\u4f4d\u76f8',
    '\u76f8\u4f4d',
  ],
  frequency: [
    'freq',
    'frecu',
    'frekv',
    'frek',
    'czestot',
    'taajuus',
    'kmitoc',
    'f',
    'fr',
    '\u0447\u0430\u0441\u0442\u043e\u0442',
    '\u5468\u6ce2\u6570',
    '\u9891\u7387',
    '\uc8fc\ud30c\uc218',
  ],
  level: [
    'level',
    'spl',
    'magn',
    'mag',
    'ampl',
    'amp',
    'pegel',
    'niveau',
    'livell',
    'nivel',
    'niva',
    'taso',
    'poziom',
    'respon',
    'repons',
    'respue',
    'rispos',
    'betrag',
    'modul',
    'gain',
    'schalldruck',
    'pressur',
    'pression',
    'presion',
    'pressao',
    'valu',
    'wert',
    'valeur',
    'output',
    'lp',
    'l',
    '\u0443\u0440\u043e\u0432',
    '\u30ec\u30d9\u30eb',
    '\u97f3\u5727',
    '\u58f0\u538b',
  ],
};
const SPL =
  /(?:^|[^a-z])spl(?:[^a-z]|$)|dbspl|schalldruckpegel|sound pressure|pression acoust|pression[ei]? sonor|presion sonor|pressao sonor|\bre[fl]?[.:]? ?20 ?(?:[u\u03bc]pa|micropascal)/;
const UNITS: [NonNullable<HeadingCell['unit']>, RegExp][] = [
  ['kHz', /khz$/],
  ['Hz', /hz$|^hertz$/],
  ['dB', /^db|db$|^decibel/],
  ['deg', /^deg|deg$|^\u00b0$|^grad[io]?s?$/],
  ['rad', /^rad(ian)?s?$/],
  ['Pa', /^pa$|^pascal/],
  ['linear', /^lin$|^linear$|^ratio$|^v$|^volts?$/],
];
const BY_UNIT: Record<NonNullable<HeadingCell['unit']>, ColumnKind> = {
  kHz: 'frequency',
  Hz: 'frequency',
  dB: 'level',
  Pa: 'level',
  linear: 'level',
  deg: 'phase',
  rad: 'phase',
};

/**
 * Read the heading of one column: what it holds and in which unit.
 *
 * @example
 * readHeadingCell('Freq. [kHz]') // { text: 'Freq. [kHz]', kind: 'frequency', unit: 'kHz' }
 */
export function readHeadingCell(cell: string): HeadingCell {
  const text = cell.trim();
  // The longest headings are a line of prose; those say nothing about a column.
  if (text.length > 80) return { text };
  const plain = plainText(text);
  const words = plain.split(/[^\p{L}\p{N}\u00b0]+/u).filter(Boolean);
  const unit = UNITS.find(([, pattern]) => words.some((word) => pattern.test(word)))?.[0];
  const named = kindByName(words, unit);
  const kind = named === 'other' ? undefined : (named ?? (unit && BY_UNIT[unit]));
  return {
    text,
    ...(kind && { kind }),
    ...(kind && !named && { byUnit: true }),
    ...(unit && { unit }),
    ...(kind === 'level' && SPL.test(plain) && { spl: true }),
  };
}

/** Lower case, without accents and with one form for every sign. */
export function plainText(text: string): string {
  return text
    .normalize('NFKD')
    .replace(/[\u0300-\u036f]/g, '')
    .toLowerCase();
}

function kindByName(words: string[], unit: HeadingCell['unit']): ColumnKind | 'other' | undefined {
  const says = (kind: ColumnKind | 'other') =>
    words.some((word) =>
      WORDS[kind].some((stem) => (stem.length > 3 || stem > '\u0400' ? word.includes(stem) : word === stem)),
    );
  const isLevelUnit = unit === 'dB' || unit === 'Pa' || unit === 'linear';
  if (says('other') || words.some((word) => /^h\d$/.test(word))) return 'other';
  if (says('noise')) return 'noise';
  if (says('phase')) return 'phase';
  // 'Frequency response (dB)' names a level.
  if (says('frequency') && !isLevelUnit && !words.some((word) => word.startsWith('respon'))) return 'frequency';
  if (says('level') || (says('frequency') && isLevelUnit)) return 'level';
  return undefined;
}
