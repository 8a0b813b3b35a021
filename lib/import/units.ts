import type { Caveat } from '../model/caveat';
import type { Curve } from '../model/curve';
import { makeCaveat } from '../words/makeCaveat';
import type { ChosenColumns } from './chooseColumns';
import { type ColumnLook, isTooWide, looksLikeMagnitude } from './columnLook';
import type { Heading } from './findHeading';
import type { FrequencyUnit, LevelUnit } from './headingUnits';
import type { HeadingCell } from './headingWords';
import { AS_IT_IS } from './readRows';
import type { CheckedTextOptions } from './textOptions';

/** Units of the columns, and what turns their numbers into Hz, dB and degrees. */
export interface Units {
  frequencyUnit: FrequencyUnit;
  /** Stated by an option or the heading. */
  frequencyUnitKnown: boolean;
  levelUnit: LevelUnit;
  scale: Curve['scale'];
  toHz: (value: number) => number;
  toDb: (value: number) => number;
  noiseToDb: (value: number) => number;
  toDeg: (value: number) => number;
}

/** What 0 dB is, in each unit: 1 of it, but 20 uPa for sound pressure in air (ISO 1683); mV are told re 1 V. */
const REFERENCE: Record<Exclude<LevelUnit, 'dB'>, number> = {
  linear: 1,
  V: 1,
  mV: 1000,
  Pa: 20e-6,
  mPa: 20e-3,
  uPa: 20,
};
const PER_HERTZ: Record<FrequencyUnit, number> = { Hz: 1, kHz: 1e-3, MHz: 1e-6, mHz: 1e3, 'rad/s': 2 * Math.PI };

/**
 * Choose the units: as asked for, else as the headings say, else Hz, dB and degrees; the scale likewise, else relative.
 * Numbers that do not look like levels in dB are doubted where nothing says that they are.
 *
 * @param textScale what the text above the columns says. @param notes what was not asked for is added here.
 */
export function chooseUnits(
  heading: Heading | undefined,
  { columns, looks }: ChosenColumns,
  options: CheckedTextOptions,
  textScale: Curve['scale'] | undefined,
  notes: Caveat[],
): Units {
  const cellOf = (column: number | undefined) => (column === undefined ? undefined : heading?.cells[column]);
  const where = heading && { lines: [heading.line] };
  const frequency = cellOf(columns.frequency);
  const level = cellOf(columns.level);
  const saidFrequency = frequency?.unit && isFrequencyUnit(frequency.unit) ? frequency.unit : undefined;
  const frequencyUnit = options.frequencyUnit ?? saidFrequency ?? 'Hz';
  const saidLevel = levelUnitOf(level);
  const levelUnit = options.levelUnit ?? saidLevel ?? 'dB';
  const isSpl = level?.spl === true || levelUnit.endsWith('Pa');
  const scale = options.scale ?? textScale ?? (isSpl ? 'spl' : 'relative');

  if (options.frequencyUnit && saidFrequency && saidFrequency !== options.frequencyUnit) {
    notes.push(
      makeCaveat('frequency-unit-against-heading', 'doubt', { unit: frequencyUnit, heading: saidFrequency }, where),
    );
  } else if (!options.frequencyUnit && frequency?.oddUnit) {
    notes.push(makeCaveat('frequency-unit-odd', 'doubt', { unit: frequencyUnit, heading: frequency.oddUnit }, where));
  } else if (!options.frequencyUnit) {
    const from = saidFrequency ? 'heading' : 'assumed';
    notes.push(makeCaveat('frequency-unit', 'remark', { unit: frequencyUnit, from }, saidFrequency && where));
  }
  if (!options.levelUnit) {
    const from = saidLevel || level?.spl ? 'heading' : 'assumed';
    const look = looks[columns.level];
    // a column that is called a level is hardly linear, unless all its numbers are small
    const isOdd = isTooWide(look) || (looksLikeMagnitude(look) && !(level?.isLogarithmic && look.highest > 10));
    const isSure = from === 'heading' || scale === 'spl' || !isOdd;
    notes.push(
      isSure
        ? makeCaveat('level-unit', 'remark', { unit: levelUnit, from }, from === 'heading' ? where : undefined)
        : levelUnitUnsure(columns.level, look),
    );
  }
  if (!options.scale) {
    notes.push(makeCaveat('level-scale', 'remark', { scale, from: textScale || isSpl ? 'text' : 'assumed' }));
  }
  const isRadian = cellOf(columns.phase)?.unit === 'rad';
  if (isRadian) notes.push(makeCaveat('phase-in-radians', 'remark', {}, where));
  return {
    frequencyUnit,
    frequencyUnitKnown: options.frequencyUnit !== undefined || saidFrequency !== undefined,
    levelUnit,
    scale,
    toHz: toHzFrom(frequencyUnit),
    toDb: toDbFrom(levelUnit),
    noiseToDb: toDbFrom(levelUnitOf(cellOf(columns.noise)) ?? levelUnit),
    toDeg: isRadian ? (value) => (value * 180) / Math.PI : AS_IT_IS,
  };
}

function levelUnitUnsure(column: number, seen: ColumnLook): Caveat {
  const { lowest, highest } = seen;
  const look = isTooWide(seen) ? 'wide' : 'magnitude';
  return makeCaveat('level-unit-unsure', 'doubt', { column: column + 1, lowest, highest, look });
}

function levelUnitOf(cell: HeadingCell | undefined): LevelUnit | undefined {
  return cell?.unit && (cell.unit === 'dB' || cell.unit in REFERENCE) ? (cell.unit as LevelUnit) : undefined;
}

function isFrequencyUnit(unit: string): unit is FrequencyUnit {
  return unit in PER_HERTZ;
}

/** 15 digits, so that 0.0201 kHz is 20.1 Hz and not 20.099999999999998. */
function toHzFrom(unit: FrequencyUnit): (value: number) => number {
  if (unit === 'Hz') return AS_IT_IS;
  return (value) => Number((value / PER_HERTZ[unit]).toPrecision(15));
}

/** 20 lg; -Infinity for 0 and NaN below, so that such rows are told from levels. */
function toDbFrom(unit: LevelUnit): (value: number) => number {
  if (unit === 'dB') return AS_IT_IS;
  const reference = REFERENCE[unit];
  return (value) => 20 * Math.log10(value / reference);
}
