import {
  type ColumnKind,
  frequencyUnitIn,
  type HeadingUnit,
  KIND_OF_UNIT,
  levelUnitIn,
  phaseUnitIn,
} from './headingUnits';

/** What the heading of one column says. */
export interface HeadingCell {
  text: string;
  /** 'other': something that is neither a level nor goes with one, such as distortion, a target or a count of rows. */
  kind?: ColumnKind | 'other';
  /** The kind is known from the unit alone. */
  byUnit?: boolean;
  unit?: HeadingUnit;
  /** A unit in brackets that is not known, or that has two readings. */
  oddUnit?: string;
  /** Called a level, which is one in dB. */
  isLogarithmic?: boolean;
  /** Names sound pressure level, so that levels are dB re 20 uPa. */
  spl?: boolean;
}

// Parts of words in the languages measuring is taught in; up to three letters must be the whole word.
const WORDS: Record<ColumnKind | 'other', string[]> = {
  other: wordList(
    'thd distor klirr verzerr harmon coheren kohären delay laufzeit retard groupe impedan widerstand ohm ohms date datum ' +
      'index idx ms sec percent prozent target soll ziel cible objetiv obiettiv toleran imag deviat abweich uncertain excess',
  ),
  noise: wordList(
    'noise rausch störpegel störger hintergrund background bruit rumore ruido ruis brus støj szum kohina шум ノイズ 騒音 噪声',
  ),
  phase: wordList('phas fase fas faza fáze vaihe angle winkel phi фаз 位相 相位'),
  frequency: wordList('freq frecu frek częstot taajuus kmitoč f fr omega ω kreisfreq частот 周波数 频率 주파수'),
  level: wordList(
    'level spl magn mag ampl amp pegel niveau livell nivel nivå taso poziom respon repons respue rispos betrag modul ' +
      'gain schalldruck pressur pression presion pressao valu wert valeur output lp l уров レベル 音圧 声压',
  ),
};
/** What speaks of another column only where it stands so ('real' is a part of other words, 'no' of 'no smoothing'). */
const OTHER_BY_PLACE =
  /^(?:re|im)(?:$|[([{ ])|^(?:#|n|i|no|nr|num|id|row|zeile|points?|punkt|count)\.?$|(?:^|\s)(?:reference|referenz)(?:$|[\s,)])|^\|?z\|?(?:$|[\s([])|^[hk]\d$|%/;
const OTHER_ALONE =
  /(?:^|\s)(?:real|realteil|reell?e?|reel|time|zeit|temps|upper|lower|goal|min(?:imum)?)(?:$|[\s,)])|limit(?!er|ed|ing)/;
/** Of a frequency that is no column: of sampling, or a step or a range of frequencies. */
const NO_COLUMN = /sampl|abtast|echantill|muestr|campion|resolut|auflosung|spacing|range|bereich|(?:^|\s)step/;
const SPL =
  /(?:^|[^a-z])spl(?:[^a-z]|$)|dbspl|schalldruckpegel|sound pressure|pression acoust|pression[ei]? sonor|presion sonor|pressao sonor|\bre[fl]?[.:]? ?20 ?(?:[u\u03bc]pa|micropascal)/;
const LOGARITHMIC = /level|pegel|niveau|livell|nivel|niva|poziom|taso|\bl\b|\blp\b|уров|レベル/;
const RESPONSE = /^(?:respon|repons|respue|rispos)|frequenzgang/;
const VALUE = /(?:^|[\s:=@,(])[-+\u2212]?\d+(?:[.,]\d+)?\s?(?:[km]?hz|db|[км]?гц|дб)(?!\p{L})/u;
const MOST_BESIDE_UNIT = 3;
const UNIT_IN_BRACKETS = /[([]\s*([^\s)\]]{1,6})\s*[)\]]$/;

/**
 * Read the heading of one column: what it holds and in which unit.
 *
 * @example
 * readHeadingCell('Freq. [kHz]') // { text: 'Freq. [kHz]', kind: 'frequency', unit: 'kHz' }
 */
export function readHeadingCell(cell: string): HeadingCell {
  const text = cell.trim().replace(/^"(.*)"$/, '$1');
  // The longest headings are a line of prose; those say nothing about a column.
  if (text.length > 80) return { text };
  const plain = plainText(text);
  // 'SPL 94.0 dB' or '1000 Hz' tells a value; it names no column.
  if (VALUE.test(plain)) return { text };
  const spl = SPL.test(plain);
  const words = plain.split(/[^\p{L}\p{N}\u00b0]+/u).filter(Boolean);
  const frequencyUnit = frequencyUnitIn(text);
  const levelUnit = frequencyUnit ? undefined : levelUnitIn(text, spl);
  const phaseUnit = frequencyUnit || levelUnit ? undefined : phaseUnitIn(text);
  const unit = frequencyUnit?.unit ?? levelUnit ?? phaseUnit;
  // in lower case the sign of ohms would be that of an angular frequency
  const named = /[\u03a9\u2126]/.test(text) ? 'other' : kindByName(plain, words, levelUnit !== undefined, spl);
  // a unit among many words, as in 'taken in Pa or kHz as it came', is prose
  const kind = named ?? (unit && words.length <= MOST_BESIDE_UNIT ? KIND_OF_UNIT[unit] : undefined);
  const bracketed = text.match(UNIT_IN_BRACKETS)?.[1];
  const oddUnit = frequencyUnit?.isOdd || ((kind === 'frequency' || !kind) && !unit) ? bracketed : undefined;
  return {
    text,
    ...(kind && { kind }),
    ...(kind && !named && { byUnit: true }),
    ...(unit && { unit }),
    ...(oddUnit && { oddUnit }),
    ...(kind === 'level' && LOGARITHMIC.test(plain) && { isLogarithmic: true }),
    ...(kind === 'level' && spl && { spl: true }),
  };
}

/** Whether a line tells a value with its unit, as '94 dB' or '1000 Hz', which no heading does. */
export function tellsValues(line: string): boolean {
  return VALUE.test(plainText(line));
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

function kindByName(plain: string, words: string[], isLevel: boolean, spl: boolean): HeadingCell['kind'] {
  const says = (kind: ColumnKind | 'other') =>
    words.some((word) =>
      WORDS[kind].some((stem) => (stem.length > 3 || /[^a-zø]/.test(stem) ? word.includes(stem) : word === stem)),
    );
  if (says('other') || OTHER_ALONE.test(plain) || (!spl && OTHER_BY_PLACE.test(plain))) return 'other';
  if (says('noise')) return 'noise';
  if (says('phase')) return 'phase';
  // 'Frequency response (dB)' names a level.
  if (says('frequency') && !isLevel && !words.some((word) => RESPONSE.test(word))) {
    return NO_COLUMN.test(plain) ? undefined : 'frequency';
  }
  return says('level') || (says('frequency') && isLevel) ? 'level' : undefined;
}
