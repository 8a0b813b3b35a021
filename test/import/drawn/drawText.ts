import type { TextOptions } from '../../../lib/import/textOptions';
import { type Random, randomFrom } from '../../../lib/rig/random';
import { DrawnColumns, ODDS, type Odd, type Point, shuffled } from './drawColumns';
import { REMARKS, STRAYS } from './vocabulary';
import { drawManner, encode, type Manner, writeCell } from './writeDrawn';

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

/** The lines of a text: remarks, heading and rows, in one manner of writing. */
class Drawing extends DrawnColumns {
  private readonly manner: Manner;
  private isRemarkBelow = false;

  constructor(random: Random, odd: Set<Odd>) {
    super(random, odd);
    this.manner = drawManner(random, odd.has('comma twice'));
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
