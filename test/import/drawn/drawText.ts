import type { TextOptions } from '../../../lib/import/textOptions';
import { type Random, randomFrom } from '../../../lib/rig/random';
import { type DrawnCurve, drawCurve, round } from './drawCurve';
import { HEADINGS, type Kind, OTHERS, REMARKS, STRAYS, TARGETS } from './vocabulary';
import { drawManner, encode, type Manner, writeCell } from './writeDrawn';

/** A point as the writer meant it. */
export interface Point {
  hz: number;
  db: number;
  deg?: number;
  noiseDb?: number;
}

/** A text whose meaning is known. */
export interface DrawnText {
  source: string | Uint8Array;
  text: string;
  options: TextOptions;
  /** What it holds; none where it holds no response. */
  points: Point[];
  /** As any program writes it: to be read in full, without a doubt. */
  isNormal: boolean;
  /** Nobody could know from the text what was meant. */
  isUndecidable: boolean;
  /** What is odd about it. */
  odd: string[];
}

interface Column {
  kind: Kind;
  heading: string;
  unit: string;
  /** One for each row; NaN where there is none. */
  values: number[];
  places: number;
}

const ODDS = [
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
type Odd = (typeof ODDS)[number];

/** Draw the text of a number; the same number gives the same text. */
export function drawText(number: number): DrawnText {
  const random = randomFrom(['text of known truth', number]);
  const isNormal = random.uniform() < 0.35;
  const odd = new Set<Odd>();
  if (!isNormal) for (let i = random.pick([1, 1, 2, 3]); i > 0; i--) odd.add(random.pick(ODDS));
  if (odd.has('no level')) for (const other of ['two levels', 'target', 'complex'] as const) odd.delete(other);
  if (odd.has('complex')) odd.delete('two levels');
  return new Drawing(random, odd).text(isNormal);
}

class Drawing {
  private readonly manner: Manner;
  private readonly curve: DrawnCurve;
  private readonly words;
  private columns: Column[] = [];
  private points: Point[] = [];
  private hasHeading: boolean;
  private saysUnits: boolean;
  private isUndecidable = false;
  private isRemarkBelow = false;

  constructor(
    private readonly random: Random,
    private readonly odd: Set<Odd>,
  ) {
    this.manner = drawManner(random, odd.has('comma twice'));
    this.curve = drawCurve(random, odd.has('few'));
    this.words = random.pick(HEADINGS);
    this.hasHeading = random.uniform() < 0.7;
    this.saysUnits = random.uniform() < 0.7;
    this.drawColumns();
  }

  private chance(share: number): boolean {
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

  text(isNormal: boolean): DrawnText {
    const { random, odd, manner } = this;
    let rows: (string[] | string)[] = this.rows();
    if (odd.has('thousands')) manner.thousands = random.pick([',', '.', "'", '\u202f', ' ']);
    if (manner.thousands === manner.decimal || manner.thousands === manner.delimiter) manner.thousands = undefined;
    const lines = this.before();
    this.isRemarkBelow = this.chance(0.3);
    const heading = this.heading();
    if (odd.has('heading away')) lines.unshift(...heading, this.remark());
    else lines.push(...heading);
    if (this.isRemarkBelow && !odd.has('heading away'))
      lines.push(...Array.from({ length: random.pick([1, 2]) }, () => this.remark(true)));
    if (odd.has('strays')) this.strays(lines, rows);
    const data = rows.map((row) => (typeof row === 'string' ? row : this.line(row)));
    rows = [];
    if (odd.has('remark inside')) data.splice(random.pick([1, Math.floor(data.length / 2)]), 0, this.remark());
    if (odd.has('row with words'))
      data.splice(random.pick([0, 1, data.length]), 0, ['48000', '24', 'bit PCM'].join(manner.delimiter.trim() || ' '));
    const after = this.chance(0.15) ? [random.pick(['', 'end of data', '# end', `${manner.mark} 2 pages`])] : [];
    const text = [...lines, ...data, ...after, ...(this.chance(0.7) ? [''] : [])].join('\n');
    return {
      text,
      source: encode(text, manner),
      options: {},
      points: this.points,
      isNormal: isNormal && !this.looksOdd(),
      isUndecidable: this.isUndecidable,
      odd: [...odd],
    };
  }

  /** Levels that could be magnitudes, and phases that hardly turn: read as they are, but with a doubt. */
  private looksOdd(): boolean {
    const levels = this.points.map(({ db }) => db);
    const phases = this.columns.find(({ kind }) => kind === 'phase')?.values ?? [0, 90];
    const turns =
      Math.max(...phases) - Math.min(...phases) >= 90 &&
      (Math.min(...phases) <= 0 || phases.every((p, i) => i === 0 || p < phases[i - 1]));
    const [lowest, highest] = [Math.min(...levels), Math.max(...levels)];
    const isSaid = this.hasHeading && this.saysUnits;
    const isSmall = lowest > 0 && (lowest < 10 || highest < 30) && !isSaid;
    return isSmall || (!this.hasHeading && !turns);
  }

  /** Cells of all rows, some of them without a number. */
  private rows(): string[][] {
    const { random, odd, manner } = this;
    const count = this.columns[0].values.length;
    let order = Array.from({ length: count }, (_, i) => i);
    if (odd.has('unsorted')) order = random.pick([() => order.toReversed(), () => shuffled(order, random)])();
    else if (this.hasHeading && this.chance(0.05)) order.reverse();
    // where no row is above the one before, or hardly any, no order shows a row that is none, or a second curve
    if (order[0] > 0 && (odd.has('strays') || odd.has('two curves'))) this.isUndecidable = true;
    if (odd.has('few') && odd.has('strays')) this.isUndecidable = true;
    if (odd.has('two curves')) order = [...order, ...order];
    const share = odd.has('missing') ? random.pick([0.05, 0.2, 0.6]) : 0;
    const missing = this.chance(0.2) ? Math.floor(count / 2) : -1;
    const word = random.pick(['NaN', '', 'n/a', '-', 'nan', 'inf', '---']);
    const keep = manner.delimiter.trim() === '' && manner.delimiter !== '\t' && word === '' ? 'NaN' : word;
    return order.map((i, k) => {
      const isMissing = k === missing || (k > 0 && random.uniform() < share);
      const column = random.pick(this.columns);
      return this.columns.map((one) => {
        const second = odd.has('two curves') && k >= count && one.kind === 'level' ? 2 : 0;
        if (second) this.points.push({ ...this.points[i], db: Number.NaN });
        return isMissing && (one === column || this.columns.length === 2)
          ? keep
          : writeCell(one.values[i] + second, one.places, manner);
      });
    });
  }

  private line(cells: string[]): string {
    const { manner } = this;
    return manner.lead + cells.map((cell) => manner.quote + cell + manner.quote).join(manner.delimiter) + manner.trail;
  }

  private heading(): string[] {
    if (!this.hasHeading) return [];
    const { random, manner } = this;
    const unit = (text: string) =>
      this.saysUnits && text !== '' ? random.pick([` (${text})`, ` [${text}]`, ` in ${text}`, `/${text}`]) : '';
    const style = random.pick([0, 1, 2]);
    const isBlank = manner.delimiter.trim() === '' && !manner.delimiter.includes('\t');
    if (this.saysUnits && this.chance(0.15) && !isBlank && this.columns.every((column) => column.unit !== '')) {
      return [this.columns.map((column) => column.heading), this.columns.map((column) => column.unit)].map((cells) =>
        cells.join(manner.delimiter),
      );
    }
    const cells = this.columns.map((column) => {
      const said =
        column.heading +
        (style === 0 && !isBlank ? unit(column.unit) : this.saysUnits && column.unit !== '' ? ` (${column.unit})` : '');
      if (!isBlank) return manner.quote + said + manner.quote;
      return manner.quote || this.chance(0.2) ? `"${said}"` : said.replaceAll(' ', '');
    });
    const mark = !this.isRemarkBelow && this.chance(0.25) ? `${manner.mark} ` : '';
    return [mark + manner.lead + cells.join(manner.delimiter) + manner.trail];
  }

  private before(): string[] {
    return Array.from({ length: this.random.pick([0, 0, 1, 2, 4]) }, () => this.remark());
  }

  private remark(isMarked = this.chance(0.6)): string {
    const text = this.random.pick(REMARKS);
    return isMarked && text !== '' ? `${this.manner.mark} ${text}` : text;
  }

  /** Numbers that are no points, before or after. */
  private strays(before: string[], rows: (string[] | string)[]): void {
    const { random, manner } = this;
    const cells = random.pick(STRAYS).map((v) => writeCell(v, 0, manner));
    const mark = this.chance(0.3) ? `${manner.mark} ` : '';
    const [hz] = cells.map((cell) => Number(cell.replace(',', '.')));
    const top = this.points.reduce((most, point) => Math.max(most, point.hz), 0);
    const low = this.points.reduce((least, point) => Math.min(least, point.hz), Number.POSITIVE_INFINITY);
    // as far from the others as points are from each other, nothing tells it from one
    if ((hz > top && hz < 5 * top) || (hz < low && hz > low / 5)) this.isUndecidable = true;
    const line = mark + cells.join(manner.delimiter);
    const where = random.pick(['before', 'above', 'after', 'apart']);
    if (where === 'before') before.unshift(line, this.remark());
    if (where === 'above') before.push(line);
    if (where === 'after') rows.push(line);
    if (where === 'apart') rows.push('', line);
  }
}

function shuffled<T>(list: readonly T[], random: Random): T[] {
  return list
    .map((one) => ({ one, key: random.uniform() }))
    .sort((a, b) => a.key - b.key)
    .map(({ one }) => one);
}
