import type { Random } from '../../../lib/rig/random';
import { type DrawnCurve, drawCurve, round } from './drawCurve';
import { HEADINGS, type Kind, OTHERS, TARGETS } from './vocabulary';

/** A point as the writer meant it. */
export interface Point {
  hz: number;
  db: number;
  deg?: number;
  noiseDb?: number;
}

export interface Column {
  kind: Kind;
  heading: string;
  unit: string;
  /** One for each row; NaN where there is none. */
  values: number[];
  places: number;
}

export const ODDS = [
  'frequency unit',
  'unsaid kHz',
  'level unit',
  'unsaid linear',
  'unsaid Pa',
  'extra columns',
  'no level',
  'target',
  'complex',
  'counter',
  'repeated',
  'order',
  'strays',
  'thousands',
  'comma twice',
  'missing',
  'unsorted',
  'two curves',
  'few',
  'heading away',
  'two levels',
  'remark inside',
  'row with words',
] as const;
export type Odd = (typeof ODDS)[number];

/** The columns of a text, what each holds in which unit, and the points that are meant. */
export class DrawnColumns {
  columns: Column[] = [];
  points: Point[] = [];
  hasHeading: boolean;
  saysUnits: boolean;
  isUndecidable = false;
  private readonly curve: DrawnCurve;
  private readonly words;

  constructor(
    protected readonly random: Random,
    protected readonly odd: Set<Odd>,
  ) {
    this.curve = drawCurve(random, odd.has('few'));
    this.words = random.pick(HEADINGS);
    this.hasHeading = random.uniform() < 0.7;
    this.saysUnits = random.uniform() < 0.7;
    this.drawColumns();
  }

  protected chance(share: number): boolean {
    return this.random.uniform() < share;
  }

  private drawColumns(): void {
    const { random, curve, odd, words } = this;
    const count = curve.frequencyHz.length;
    const frequency: Column = {
      kind: 'frequency',
      heading: random.pick(words.frequency),
      unit: 'Hz',
      values: [...curve.frequencyHz],
      places: curve.places.frequency,
    };
    const level: Column = {
      kind: 'level',
      heading: random.pick(words.level),
      unit: random.pick(['dB', 'dB', 'dB SPL', 'dBFS']),
      values: [...curve.levelDb],
      places: curve.places.level,
    };
    const phase: Column = {
      kind: 'phase',
      heading: random.pick(words.phase),
      unit: random.pick(['deg', '°', 'degrees']),
      values: [...curve.phaseDeg],
      places: curve.places.phase,
    };
    const noise: Column = {
      kind: 'noise',
      heading: random.pick(words.noise),
      unit: 'dB',
      values: [...curve.noiseDb],
      places: curve.places.level,
    };
    this.points = curve.frequencyHz.map((hz, i) => ({
      hz,
      db: curve.levelDb[i],
      deg: curve.phaseDeg[i],
      noiseDb: curve.noiseDb[i],
    }));
    this.frequencyUnit(frequency);
    this.levelUnit(level);
    this.columns = [frequency, level];
    if (this.chance(0.5)) this.columns.push(phase);
    if (this.hasHeading && this.chance(0.15)) this.columns.push(noise);
    if (odd.has('complex')) this.columns = [frequency, ...this.complex()];
    if (odd.has('no level')) {
      this.columns = [frequency, this.other()];
      this.points = [];
      // distortion in dB looks like any level, and three impedances may
      if (!this.hasHeading && (this.columns[1].unit === 'dB' || odd.has('few'))) this.isUndecidable = true;
    }
    if (odd.has('extra columns')) for (let i = random.pick([1, 2]); i > 0; i--) this.columns.push(this.other());
    if (odd.has('two levels')) {
      this.columns.push({
        ...level,
        heading: `${level.heading} 2`,
        values: level.values.map((v) => round(v + random.between(-4, 4), level.places)),
      });
    }
    if (odd.has('target')) {
      const flat = curve.levelDb.reduce((a, b) => a + b, 0) / count;
      const target = {
        ...level,
        kind: 'other' as const,
        heading: random.pick(TARGETS),
        values: curve.levelDb.map((_, i) => round(flat - 3 * (i / count), level.places)),
      };
      this.columns.splice(1, 0, target);
      // without a heading nobody can know which of two like columns was wanted, but it is to be said
    }
    if (odd.has('repeated') || (odd.has('counter') && this.chance(0.5))) this.repeat();
    if (odd.has('counter'))
      this.columns.unshift({
        kind: 'other',
        heading: random.pick(['No.', '#', 'Index', 'Nr', 'Punkt', 'N']),
        unit: '',
        values: frequency.values.map((_, i) => i + random.pick([0, 1]) * 0 + 1),
        places: 0,
      });
    if (odd.has('order')) this.columns = shuffled(this.columns, random);
  }

  /** Other units than Hz, said or not. */
  private frequencyUnit(column: Column): void {
    const { random, odd } = this;
    const unit = odd.has('unsaid kHz')
      ? 'kHz'
      : odd.has('frequency unit')
        ? random.pick(['kHz', 'kHz', 'rad/s', 'mHz', 'MHz'])
        : 'Hz';
    if (unit === 'Hz') return;
    const per = { kHz: 1e-3, 'rad/s': 2 * Math.PI, mHz: 1e3, MHz: 1e-6 }[unit] as number;
    column.places = { kHz: column.places + 3, 'rad/s': 4, mHz: Math.max(0, column.places - 3), MHz: column.places + 6 }[
      unit
    ] as number;
    column.unit = unit;
    column.values = column.values.map((hz) => round(hz * per, column.places));
    this.points.forEach((point, i) => {
      point.hz = column.values[i] / per;
    });
    if (odd.has('unsaid kHz')) {
      column.unit = '';
      this.isUndecidable = true;
    } else {
      this.hasHeading = true;
      this.saysUnits = true;
      if (unit === 'rad/s' && this.chance(0.3))
        column.heading = random.pick(['omega', '\u03c9', 'Angular frequency', 'Kreisfrequenz']);
    }
  }

  private levelUnit(column: Column): void {
    const { random, odd } = this;
    const isUnsaid = odd.has('unsaid linear') || odd.has('unsaid Pa');
    if (!isUnsaid && !odd.has('level unit')) return;
    const unit = odd.has('unsaid Pa')
      ? 'Pa'
      : odd.has('unsaid linear')
        ? random.pick(['V', 'linear', 'mV'])
        : random.pick(['Pa', 'mPa', 'V', 'mV', 'linear']);
    const perUnit = { Pa: 1, mPa: 1e-3, V: 1, mV: 1e-3, linear: 1 }[unit] as number;
    const reference = unit.endsWith('Pa') ? 20e-6 : 1;
    const offset = unit.endsWith('Pa') ? 85 : unit.endsWith('V') ? -12 : -3;
    const top = column.values.reduce((a, b) => Math.max(a, b));
    column.places = unit.startsWith('m') ? 4 : 6;
    column.values = column.values.map((db) =>
      round((reference * 10 ** ((db - top + offset) / 20)) / perUnit, column.places),
    );
    column.unit = unit;
    column.heading = random.pick(
      unit.endsWith('Pa') ? ['Pressure', 'Schalldruck', 'Amplitude'] : ['Magnitude', 'Amplitude', 'Betrag', 'Response'],
    );
    this.points.forEach((point, i) => {
      point.db = 20 * Math.log10((column.values[i] * perUnit) / reference);
    });
    if (isUnsaid) {
      column.unit = '';
      if (odd.has('unsaid Pa')) this.isUndecidable = true;
    } else {
      this.hasHeading = true;
      this.saysUnits = true;
    }
  }

  private complex(): Column[] {
    const { curve, random } = this;
    const size = random.pick([1, 1, 30]);
    const top = curve.levelDb.reduce((a, b) => Math.max(a, b));
    const part = (of: (x: number) => number, heading: string): Column => ({
      kind: 'other',
      heading,
      unit: '',
      places: 6,
      values: curve.levelDb.map((db, i) =>
        round(size * 10 ** ((db - top) / 20) * of((curve.phaseDeg[i] * Math.PI) / 180), 6),
      ),
    });
    const [re, im] = random.pick([
      ['Real', 'Imag'],
      ['Re', 'Im'],
      ['Realteil', 'Imaginärteil'],
      ['real part', 'imaginary part'],
      ['Re(H)', 'Im(H)'],
    ]);
    this.points = [];
    return [part(Math.cos, re), part(Math.sin, im)];
  }

  private other(): Column {
    const { random, curve } = this;
    const { name, unit, from, to, places } = random.pick(OTHERS);
    const spread = () => (from > 0 ? from * (to / from) ** random.uniform() : random.between(from, to));
    let last = spread();
    const values = curve.frequencyHz.map(() => {
      last = 0.6 * last + 0.4 * spread();
      return round(last, places);
    });
    return { kind: 'other', heading: name, unit, values, places };
  }

  /** Every frequency twice, with a level a little apart. */
  private repeat(): void {
    const twice = <T>(list: T[]) => list.flatMap((one) => [one, one]);
    for (const column of this.columns) {
      const apart = column.kind === 'level' && column.unit.startsWith('d') ? 0.2 : 0;
      column.values = twice(column.values).map((v, i) => round(v + (i % 2) * apart, column.places));
      if (apart) this.points = twice(this.points).map((point, i) => ({ ...point, db: column.values[i] }));
    }
  }
}

export function shuffled<T>(list: readonly T[], random: Random): T[] {
  return list
    .map((one) => ({ one, key: random.uniform() }))
    .sort((a, b) => a.key - b.key)
    .map(({ one }) => one);
}
