import type { TextImport } from '../model/step';

export type ColumnKind = 'frequency' | 'level' | 'phase' | 'noise';
export type FrequencyUnit = TextImport['frequencyUnit'];
export type LevelUnit = TextImport['levelUnit'];
export type HeadingUnit = FrequencyUnit | LevelUnit | 'deg' | 'rad';

/** What a column is of which only the unit is known. */
export const KIND_OF_UNIT: Record<HeadingUnit, ColumnKind> = {
  Hz: 'frequency',
  kHz: 'frequency',
  mHz: 'frequency',
  MHz: 'frequency',
  'rad/s': 'frequency',
  dB: 'level',
  linear: 'level',
  V: 'level',
  mV: 'level',
  Pa: 'level',
  mPa: 'level',
  uPa: 'level',
  deg: 'phase',
  rad: 'phase',
};

// Upper and lower case tell a thousandth of a hertz from a million.
const FREQUENCY: [FrequencyUnit, RegExp][] = [
  [
    'rad/s',
    /rad(?:ian)?s?\s?(?:\/|per|\u00b7|\*)?\s?s(?:ec)?(?:\^?[-\u2212]1|\u207b\u00b9)?(?![\p{L}])|omega|kreisfreq|angular freq|pulsation/iu,
  ],
  ['rad/s', /\u03c9/u],
  ['kHz', /k[Hh][Zz](?![\p{L}])|K[Hh][Zz](?![\p{L}])|кГц|kilohertz/u],
  ['MHz', /(?:MHz|MHZ)(?![\p{L}])|МГц|[Mm]egahertz/u],
  ['mHz', /m[Hh][Zz](?![\p{L}])|мГц|[Mm]illihertz/u],
  ['Hz', /(?<!g)hz(?![\p{L}])|гц|(?:^|[^\p{L}])hertz/iu],
];
const LEVEL: [LevelUnit, RegExp][] = [
  ['dB', /(?:^|[^\p{L}])d[Bb]|indB|dB\s?SPL|d[Bb](?:$|[^\p{L}])|DB(?:$|[^\p{L}])|decibel|дБ/u],
  ['mPa', /(?:^|[^\p{L}])mPa(?:scal)?(?![\p{L}])|мПа/u],
  ['uPa', /(?:^|[^\p{L}])[u\u00b5\u03bc]Pa(?:scal)?(?![\p{L}])|мкПа/u],
  ['Pa', /(?:^|[^\p{L}])pa(?:scals?)?(?![\p{L}])|Па(?![\p{L}])/iu],
  ['mV', /(?:^|[^\p{L}])mV(?![\p{L}])|millivolt/u],
  ['V', /(?:^|[^\p{L}])(?:V(?:rms)?|[Vv]olts?)(?![\p{L}])/u],
  ['linear', /(?:^|[^\p{L}])(?:lin(?:ear)?|ratio)(?![\p{L}])/iu],
];
const PHASE: ['deg' | 'rad', RegExp][] = [
  ['deg', /(?:^|[^\p{L}])(?:deg(?:rees?)?|grad[io]?s?)(?![\p{L}])|deg$|\u00b0/iu],
  ['rad', /(?:^|[^\p{L}])rad(?:ian)?s?(?![\p{L}])/iu],
];

/** The unit of frequency that a heading names; odd where 'mhz' leaves open whether thousandths or millions are meant. */
export function frequencyUnitIn(text: string): { unit: FrequencyUnit; isOdd: boolean } | undefined {
  const unit = FREQUENCY.find(([, pattern]) => pattern.test(text))?.[0];
  return unit && { unit, isOdd: unit === 'mHz' && /m(?:hz|HZ)/.test(text) };
}

/** The unit of level that a heading names; the micropascals of 'SPL re 20 uPa' are none. */
export function levelUnitIn(text: string, spl: boolean): LevelUnit | undefined {
  const unit = LEVEL.find(([, pattern]) => pattern.test(text))?.[0];
  return spl && unit !== 'dB' ? undefined : unit;
}

export function phaseUnitIn(text: string): 'deg' | 'rad' | undefined {
  return PHASE.find(([, pattern]) => pattern.test(text))?.[0];
}
