import type { Caveat } from '../model/caveat';
import type { Curve } from '../model/curve';
import { makeCaveat } from '../words/makeCaveat';
import type { Columns } from './chooseColumns';
import type { Heading } from './findHeading';
import { AS_IT_IS } from './readRows';
import type { CheckedTextOptions } from './textOptions';

/** Units of the columns, and what turns their numbers into Hz, dB and degrees. */
export interface Units {
  frequencyUnit: 'Hz' | 'kHz';
  /** Stated by an option or the heading. */
  frequencyUnitKnown: boolean;
  levelUnit: 'dB' | 'linear' | 'Pa';
  scale: Curve['scale'];
  toHz: (value: number) => number;
  toDb: (value: number) => number;
  toDeg: (value: number) => number;
}

const REFERENCE_PA = 20e-6; // of sound pressure level in air, ISO 1683

/**
 * Choose the units: as asked for, else as the headings say, else Hz, dB and degrees; the scale likewise, else relative.
 *
 * @param textScale what the text above the columns says. @param notes what was not asked for is added here.
 */
export function chooseUnits(
  heading: Heading | undefined,
  columns: Columns,
  options: CheckedTextOptions,
  textScale: Curve['scale'] | undefined,
  notes: Caveat[],
): Units {
  const cellOf = (column: number | undefined) => (column === undefined ? undefined : heading?.cells[column]);
  const frequencySays = cellOf(columns.frequency)?.unit;
  const level = cellOf(columns.level);
  const saidUnit = frequencySays === 'kHz' || frequencySays === 'Hz' ? frequencySays : undefined;
  const frequencyUnit = options.frequencyUnit ?? saidUnit ?? 'Hz';
  const saidLevel = level?.unit === 'Pa' || level?.unit === 'linear' ? level.unit : 'dB';
  const levelUnit = options.levelUnit ?? saidLevel;
  const isSpl = level?.spl === true || levelUnit === 'Pa';
  const scale = options.scale ?? textScale ?? (isSpl ? 'spl' : 'relative');

  if (options.frequencyUnit && saidUnit && saidUnit !== options.frequencyUnit) {
    notes.push(makeCaveat('frequency-unit-against-heading', 'doubt', { unit: frequencyUnit, heading: saidUnit }));
  } else if (!options.frequencyUnit) {
    notes.push(makeCaveat('frequency-unit', 'remark', { unit: frequencyUnit, from: saidUnit ? 'heading' : 'assumed' }));
  }
  if (!options.levelUnit) {
    const from = level?.unit || level?.spl ? 'heading' : 'assumed';
    notes.push(makeCaveat('level-unit', 'remark', { unit: levelUnit, from }));
  }
  if (!options.scale) {
    notes.push(makeCaveat('level-scale', 'remark', { scale, from: textScale || isSpl ? 'text' : 'assumed' }));
  }
  const isRadian = cellOf(columns.phase)?.unit === 'rad';
  if (isRadian) notes.push(makeCaveat('phase-in-radians', 'remark', {}));
  return {
    frequencyUnit,
    frequencyUnitKnown: options.frequencyUnit !== undefined || saidUnit !== undefined,
    levelUnit,
    scale,
    toHz: frequencyUnit === 'kHz' ? fromKilohertz : AS_IT_IS,
    toDb: toDbFrom(levelUnit),
    toDeg: isRadian ? (value) => (value * 180) / Math.PI : AS_IT_IS,
  };
}

/** 15 digits, so that 0.0201 kHz is 20.1 Hz and not 20.099999999999998. */
function fromKilohertz(value: number): number {
  return Number((value * 1000).toPrecision(15));
}

/** 20 lg; -Infinity for 0 and NaN below, so that such rows are told from levels. */
function toDbFrom(unit: Units['levelUnit']): (value: number) => number {
  if (unit === 'dB') return AS_IT_IS;
  const reference = unit === 'Pa' ? REFERENCE_PA : 1;
  return (value) => 20 * Math.log10(value / reference);
}
