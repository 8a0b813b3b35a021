import { nominalHz } from '../model/octaves';

/** U+2212, as wide as a plus sign and never broken from its digits. */
export const MINUS = '\u2212';
/** U+00A0, between a number and its unit. */
export const NO_BREAK = '\u00a0';
/** U+2013, between the ends of a range. */
export const RANGE = '\u2013';

/** What a locale decides of how numbers and lists are written. */
export interface Habits {
  decimal: string;
  /** Between the last two of a list, blanks included. */
  and: string;
  /** '4th' */
  ordinal(number: number): string;
  /** 'more than a day' */
  overADay: string;
}

/** Numbers, units and lists in the habits of one locale. Units are held to their numbers by a no-break space. */
export interface Format {
  /** Fixed decimals, a true minus sign, no '-0': '−3.0'. */
  number(value: number, decimals: number): string;
  /** The same with a sign in front of positive numbers too: '+3.0'. */
  signed(value: number, decimals: number): string;
  /** As many decimals as the number has, at most `most` (1): 5 -> '5', 4.5 -> '4.5'. */
  short(value: number, most?: number): string;
  /** All the digits that it has, with a unit where one is given: 44100.5 -> '44100.5', (-3, 'dB') -> '−3 dB'. */
  exact(value: number, unit?: string): string;
  /** Three significant digits, no unit: 18.24 -> '18.2', 1234 -> '1230'. */
  hertz(hz: number): string;
  /** '18.2 Hz' */
  hz(hz: number): string;
  /** '18.2–104 Hz' */
  hzRange(lowHz: number, highHz: number): string;
  /** Several frequencies or ranges with one unit: '10, 16–20 Hz'. */
  hzList(items: readonly (number | readonly [number, number])[]): string;
  /** Third-octave bands by their nominal centres, neighbours as a range: '10, 16–20 Hz'. */
  bands(bandsHz: readonly number[]): string;
  /** '96.4 dB', one decimal unless told otherwise. */
  db(db: number, decimals?: number): string;
  /** '+12.0 dB': a difference, its sign always shown. */
  dbChange(db: number, decimals?: number): string;
  /** '+3 dB', '−12 dB', '0 dB': a run's drive as its user named it. */
  drive(db: number): string;
  /** '4th' */
  ordinal(number: number): string;
  /** 'a', 'a and b', 'a, b and c' */
  list(items: readonly string[]): string;
  /** '1 dip', '2 dips' */
  count(count: number, one: string, many?: string): string;
  /** '2.4 %', with the digits that say something. */
  percent(percent: number): string;
  /** The same without the sign: '0.42', '2.4', '12'. */
  percentDigits(percent: number): string;
  /** '94.0 dB(A)' */
  dbWeighted(db: number, letter: 'A' | 'C'): string;
  /** '3.4 m' */
  metres(metres: number): string;
  /** '45 s', '15 min', '1 h 30 min' */
  duration(seconds: number): string;
}

/**
 * Make the number formats of a locale.
 *
 * @example
 * makeFormat({ decimal: ',', and: ' und ', ordinal: (n) => `${n}.`, overADay: 'mehr als ein Tag' }).db(-3.04) // '−3,0 dB'
 */
export function makeFormat({ decimal, and, ordinal, overADay }: Habits): Format {
  const local = (digits: string): string => (decimal === '.' ? digits : digits.replace('.', decimal));
  const number = (value: number, decimals: number): string => {
    const text = Math.abs(value).toFixed(decimals);
    return local(value < 0 && Number(text) !== 0 ? MINUS + text : text);
  };
  const signed = (value: number, decimals: number): string => {
    const text = number(value, decimals);
    return value > 0 && Number(value.toFixed(decimals)) !== 0 ? `+${text}` : text;
  };
  const short = (value: number, most = 1): string =>
    number(value, (String(Number(Math.abs(value).toFixed(most))).split('.')[1] ?? '').length);
  const exact = (value: number): string =>
    `${value < 0 ? MINUS : ''}${local(String(Number(Math.abs(value).toPrecision(12))))}`;
  const hertz = (hz: number): string => local(String(Number(hz.toPrecision(3))));
  const unit = (text: string, of: string): string => `${text}${NO_BREAK}${of}`;
  const percentDigits = (percent: number): string =>
    local(percent.toFixed(percent < 0.995 ? 2 : percent < 9.95 ? 1 : 0));
  const list = (items: readonly string[]): string =>
    items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')}${and}${items[items.length - 1]}`;
  return {
    number,
    signed,
    short,
    exact: (value, of) => (of === undefined ? exact(value) : unit(exact(value), of)),
    hertz,
    hz: (hz) => unit(hertz(hz), 'Hz'),
    hzRange: (low, high) => unit(`${hertz(low)}${RANGE}${hertz(high)}`, 'Hz'),
    hzList: (items) =>
      unit(
        items
          .map((one) => (typeof one === 'number' ? hertz(one) : `${hertz(one[0])}${RANGE}${hertz(one[1])}`))
          .join(', '),
        'Hz',
      ),
    bands: (bandsHz) => {
      const runs: number[][] = [];
      for (const hz of bandsHz) {
        const run = runs[runs.length - 1];
        const isNext = run && Math.round(10 * Math.log10(hz / run[run.length - 1])) === 1;
        if (isNext) run.push(hz);
        else runs.push([hz]);
      }
      const name = (hz: number): string => local(String(nominalHz(hz)));
      const names = runs.map((run) =>
        run.length > 1 ? `${name(run[0])}${RANGE}${name(run[run.length - 1])}` : name(run[0]),
      );
      return unit(names.join(', '), 'Hz');
    },
    db: (db, decimals = 1) => unit(number(db, decimals), 'dB'),
    dbChange: (db, decimals = 1) => unit(signed(db, decimals), 'dB'),
    drive: (db) => unit(`${Number(db.toFixed(1)) > 0 ? '+' : ''}${short(db)}`, 'dB'),
    ordinal,
    list,
    count: (count, one, many = `${one}s`) => `${count} ${count === 1 ? one : many}`,
    percent: (percent) => unit(percentDigits(percent), '%'),
    percentDigits,
    dbWeighted: (db, letter) => unit(number(db, 1), `dB(${letter})`),
    metres: (metres) => unit(short(metres, 2), 'm'),
    duration: (seconds) => {
      if (seconds > 86_400) return overADay;
      if (seconds < 99.5) return unit(number(seconds, 0), 's');
      const minutes = Math.round(seconds / 60);
      const [h, min] = [Math.floor(minutes / 60), minutes % 60];
      return [h > 0 ? unit(String(h), 'h') : '', min > 0 ? unit(String(min), 'min') : ''].filter(Boolean).join(' ');
    },
  };
}

/** How English writes numbers and lists. */
export const ENGLISH = makeFormat({
  decimal: '.',
  and: ' and ',
  ordinal: (number) => {
    const isTeen = number % 100 > 10 && number % 100 < 14;
    return `${number}${isTeen ? 'th' : (['th', 'st', 'nd', 'rd'][number % 10] ?? 'th')}`;
  },
  overADay: 'more than a day',
});
