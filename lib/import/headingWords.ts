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

// Parts of words in the languages measuring is taught in; up to three letters must be the whole word.
const WORDS: Record<ColumnKind | 'other', string[]> = {
  other: wordList('thd distor klirr harmon coheren kohären delay laufzeit retard impedan ohm date datum index'),
  noise: wordList(
    'noise rausch störpegel störger hintergrund background bruit rumore ruido ruis brus støj szum kohina шум ノイズ 騒音 噪声',
  ),
  phase: wordList('phas fase fas faza fáze vaihe angle winkel phi фаз 位相 相位'),
  frequency: wordList('freq frecu frek częstot taajuus kmitoč f fr частот 周波数 频率 주파수'),
  level: wordList(
    'level spl magn mag ampl amp pegel niveau livell nivel nivå taso poziom respon repons respue rispos betrag modul ' +
      'gain schalldruck pressur pression presion pressao valu wert valeur output lp l уров レベル 音圧 声压',
  ),
};
const SPL =
  /(?:^|[^a-z])spl(?:[^a-z]|$)|dbspl|schalldruckpegel|sound pressure|pression acoust|pression[ei]? sonor|presion sonor|pressao sonor|\bre[fl]?[.:]? ?20 ?(?:[u\u03bc]pa|micropascal)/;
const VALUE = /(?:^|[\s:=@,])[-+\u2212]?\d+(?:[.,]\d+)?\s?(?:k?hz|db)(?![a-z])/;
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
  // 'SPL 94.0 dB' or '1000 Hz' tells a value; it names no column.
  if (VALUE.test(plain)) return { text };
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
    .normalize('NFC')
    .toLowerCase();
}

/** Whether a heading, or a line of them, names sound pressure level. */
export function namesSpl(text: string): boolean {
  return SPL.test(plainText(text));
}

/** Whether text above the columns says that levels are dB re 20 uPa. */
export function speaksOfSpl(text: string): boolean {
  return /\bre[fl]?[.:]? ?20 ?(?:[u\u03bc]pa|micropascal)|\bdb ?\(?spl/.test(plainText(text.slice(0, 500)));
}

function wordList(words: string): string[] {
  return words.split(' ').map(plainText);
}

function kindByName(words: string[], unit: HeadingCell['unit']): ColumnKind | 'other' | undefined {
  const says = (kind: ColumnKind | 'other') =>
    words.some((word) =>
      WORDS[kind].some((stem) => (stem.length > 3 || /[^a-zø]/.test(stem) ? word.includes(stem) : word === stem)),
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
