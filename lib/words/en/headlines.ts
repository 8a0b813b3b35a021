import type { Format } from '../format';
import { type Listed, numbered } from '../numbered';
import type { Phrases } from '../phrase';
import {
  type BurstPlace,
  burstPlace,
  driveRange,
  levelUnit,
  louder,
  pastDips,
  regionsIn,
  who,
  withName,
} from './verdictParts';

interface Named {
  name: string;
}

/** The first sentences of a verdict: at most 20 words each, names of up to three words counted in. */
export const headlines = {
  'bad-captures': ({ bad, judged }: { bad: number; judged: number }) =>
    `${judged === 0 && bad > 1 ? `${bad} captures are` : judged > bad ? `${bad} of ${judged} captures ${bad === 1 ? 'is' : 'are'}` : bad === 1 ? 'The capture is' : `All ${bad} captures are`} bad: do not use what was read from ${bad === 1 ? 'it' : 'them'}.`,
  'mixed-procedures': ({ procedures }: { procedures: number }) =>
    `The runs followed ${procedures} different procedures and must not be compared with each other.`,

  'range-in-window': (values: Listed & { heightDb: number; leftOut: 'nothing' | 'room' | 'masked' }, _where, say) => {
    const ranges = rangesIn(values, say);
    const window = `${say.short(values.heightDb)}\u00a0dB`;
    const masked = { nothing: '', room: ', room dips left out', masked: ', some dips left out' }[values.leftOut];
    if (ranges.length === 1 && !values.name1) return `It stays within ${window} over ${ranges[0]}${masked}.`;
    return `Within ${window}${masked}: ${ranges.join(', ')}${moreIn(values)}.`;
  },
  'depth-points': (values: Listed & { downDb: number }, _where, say) => {
    const [names, edges] = [numbered<string>(values, 'name'), numbered<number>(values, 'lowHz')];
    const down = (db: number): string => `${say.short(db)}\u00a0dB down`;
    if (edges.length > 1) {
      const each = edges.map((hz, k) => `at ${say.hz(hz)}${withName(names[k])}`);
      return `${say.short(values.downDb)}\u00a0dB down ${each.join(', ')}${moreIn(values)}${pastDips(values, say)}.`;
    }
    const further =
      typeof values.furtherHz === 'number'
        ? ` and ${down(values.furtherDb as number)} at ${say.hz(values.furtherHz)}`
        : '';
    return `${names[0] ? `‘${names[0]}’` : 'It'} is ${down(values.downDb)} at ${say.hz(edges[0])}${further}${pastDips(values, say)}.`;
  },

  'range-in-noise': (values: Listed, _where, say) =>
    `How wide and how deep it plays cannot be told${withNames(values, say)}: the noise is too close.`,
  'range-ends-at-dips': (values: Listed, _where, say) => {
    const dips = numbered<number>(values, 'hz').map((hz) => say.hertz(hz));
    return `The range ends at ${dips.length === 1 ? 'a dip' : 'dips'} of unknown cause (${say.list(dips)}\u00a0Hz).`;
  },

  // noise hides what lies below `fromHz`
  'limits-none': (values: Listed & { driveDb: number; fromHz: number | null }, _where, say) =>
    `Not driven into its limits${values.fromHz === null ? '' : ` from ${say.hz(values.fromHz)} up`}${withNames(values, say)}, up to the loudest run (${say.drive(values.driveDb)}).`,
  'common-loss': ({ name, byDb, driveDb }: Named & { byDb: number; driveDb: number }, _where, say) =>
    `All bands together lose ${say.db(byDb)}${withName(name)} at ${say.drive(driveDb)} of drive, as a hot voice coil would.`,
  'limits-unknown': ({ name, why }: Named & { why: LimitsUnknown }) =>
    `Too little was measured to tell where it limits${withName(name)}${WHY_UNKNOWN[why]}.`,
  'limits-bottom': (values: Limits, _where, say) =>
    `${limits(values)} at the bottom${earliest(values, say)}${onlyLast(values)}.`,
  'limits-parts': (values: Limits, _where, say) =>
    `${limits(values)} in parts${earliest(values, say)}${onlyLast(values)}.`,
  'limits-everywhere': (values: Limits, _where, say) =>
    `${limits(values)} nearly everywhere${earliest(values, say)}${onlyLast(values)}.`,

  loudest: (values: Listed & Named & { relative: boolean }, _where, say) => {
    const [hz, levels] = [numbered<number>(values, 'hz'), numbered<number>(values, 'levelDb')];
    const atLeast = numbered<boolean>(values, 'atLeast');
    const all = atLeast.every(Boolean);
    const told = levels.map((db, k) => `${atLeast[k] && !all ? 'at least ' : ''}${say.number(db, 1)}`);
    return `Loudest${withName(values.name)} at ${say.list(hz.map((one) => say.hertz(one)))}\u00a0Hz: ${all ? 'at least ' : ''}${say.list(told)}\u00a0${levelUnit(values.relative)}.`;
  },
  'loudest-burst': ({ name, hz, levelDb, atLeast, relative, ...place }: Named & Burst, _where, say) =>
    `Bursts at ${say.hz(hz)} reach ${atLeast ? 'at least ' : ''}${say.number(levelDb, 1)}\u00a0${levelUnit(relative)} peak${withName(name)}, ${burstPlace(place, say)}.`,

  'switch-shelf': ({ a, b, hz, byDb, hingeHz }: Switch & { hingeHz: number }, _where, say) =>
    hz === null || byDb === null
      ? `‘${a}’ and ‘${b}’ differ by a shelf with its hinge at ${say.hz(hingeHz)}.`
      : `‘${a}’ is ${louder(byDb, say)} ‘${b}’ at ${say.hz(hz)}; hinge at ${say.hz(hingeHz)}.`,
  'switch-level': ({ a, b, byDb }: Switch & { byDb: number }, _where, say) =>
    `‘${a}’ is ${louder(byDb, say)} ‘${b}’ at all frequencies.`,
  'switch-low-pass': ({ a, b }: Switch) => `‘${a}’ and ‘${b}’ differ by a low-pass filter.`,
  'switch-other': ({ a, b, hz, byDb }: Switch, _where, say) =>
    hz === null || byDb === null
      ? `‘${a}’ and ‘${b}’ differ, but not as a shelf would.`
      : `‘${a}’ is ${louder(byDb, say)} ‘${b}’ at ${say.hz(hz)}, but not as a shelf.`,
  'switch-none': ({ a, b }: Switch) => `No difference was found between ‘${a}’ and ‘${b}’.`,
  'switch-unknown': ({ a, b }: Switch) => `Too little can be trusted to tell how ‘${a}’ and ‘${b}’ differ.`,

  'thd-clean': ({ name, percent, lowHz, highHz, levelDb, atLeast, relative }: Named & Clean, _where, say) =>
    `THD stays below ${say.short(percent, 2)}\u00a0% ${lowHz === highHz ? `at ${say.hz(lowHz)}` : `over ${say.hzRange(lowHz, highHz)}`} up to ${atLeast ? 'at least ' : ''}${say.number(levelDb, 1)}\u00a0${levelUnit(relative)}${withName(name)}.`,

  'shape-kept': ({ lowDriveDb, highDriveDb, ...values }: Listed & Drives, _where, say) =>
    `${kept(values, say)} from ${say.drive(lowDriveDb)} to ${say.drive(highDriveDb)} of drive.`,
  'shape-loses-bottom': ({ name, byDb, hz }: Named & { byDb: number; hz: number }, _where, say) =>
    `${who(name)} loses bottom as it gets louder: ${say.db(byDb)} at ${say.hz(hz)}.`,
  'shape-gains-bottom': ({ name, byDb, hz }: Named & { byDb: number; hz: number }, _where, say) =>
    `${who(name)} gains bottom as it gets louder: ${say.db(byDb)} at ${say.hz(hz)}.`,
  'shape-bends': ({ name, byDb, hz }: Named & { byDb: number; hz: number }, _where, say) =>
    `${who(name)} bends as it gets louder, most at ${say.hz(hz)}: ${say.dbChange(byDb)}.`,

  'room-dips': (values: Listed & { count: number; leftOut: boolean }, _where, say) => {
    const { count, leftOut } = values;
    const list = numbered<number>(values, 'hz').map((hz) => say.hertz(hz));
    const more = count > list.length ? [`${count - list.length} more`] : [];
    const dips = say.count(count, 'dip');
    const told = leftOut
      ? `${dips} ${count === 1 ? 'belongs' : 'belong'} to the room and ${count === 1 ? 'was' : 'were'} left out`
      : `${dips} ${count === 1 ? 'belongs' : 'belong'} to the room, not to the unit`;
    return more.length > 0
      ? `${told}: ${list.join(', ')}\u00a0Hz and ${more[0]}.`
      : `${told}: ${say.list(list)}\u00a0Hz.`;
  },

  'nothing-usable': () => 'Nothing that was measured here can be used as it is.',
  'nothing-analysed': ({ curves, recordings }: { curves: number; recordings: number }, _where, say) =>
    `No analysis has been made: this is ${curves + recordings === 0 ? 'an empty session' : say.list([...(curves > 0 ? [say.count(curves, 'curve')] : []), ...(recordings > 0 ? [say.count(recordings, 'recording')] : [])])}${curves + recordings === 0 ? '' : ' as measured'}.`,
} satisfies Phrases;

/** Why a ladder cannot tell where a unit limits. */
export type LimitsUnknown =
  | 'no ladder'
  | 'few rungs'
  | 'untrusted'
  | 'breaks'
  | 'noise unknown'
  | 'stuck'
  | 'bottom'
  | 'not shown';

const WHY_UNKNOWN: Record<LimitsUnknown, string> = {
  'no ladder': '',
  'few rungs': ': it takes three drives',
  untrusted: ': the loudest runs are untrusted',
  breaks: ': neighbouring runs do not fit',
  'noise unknown': ': the noise is not known',
  stuck: ': from the first step on, levels hardly rise',
  bottom: ': the noise hides the bottom',
  'not shown': '',
};

interface Switch {
  a: string;
  b: string;
  hz: number | null;
  byDb: number | null;
}

interface Clean {
  percent: number;
  lowHz: number;
  highHz: number;
  levelDb: number;
  atLeast: boolean;
  relative: boolean;
}

type Burst = {
  hz: number;
  levelDb: number;
  atLeast: boolean;
  relative: boolean;
} & BurstPlace;

interface Drives {
  lowDriveDb: number;
  highDriveDb: number;
}

/** '‘flat’ and ‘deep’ keep their shape' */
function kept(values: Listed, say: Format): string {
  const names = numbered<string>(values, 'name').map(who);
  return names.length > 1 ? `${say.list(names)} keep their shape` : `${names[0] ?? who('')} keeps its shape`;
}

function withNames(values: Listed, say: Format): string {
  const names = numbered<string>(values, 'name').filter(Boolean);
  return names.length === 0 ? '' : ` with ${say.list(names.map((name) => `‘${name}’`))}`;
}

function rangesIn(values: Listed, say: Format): string[] {
  const [names, high] = [numbered<string>(values, 'name'), numbered<number>(values, 'highHz')];
  return numbered<number>(values, 'lowHz').map((low, k) => `${say.hzRange(low, high[k])}${withName(names[k])}`);
}

function moreIn({ more }: Listed): string {
  return typeof more === 'number' && more > 0 ? `, and ${more} more` : '';
}

type Limits = Listed &
  Named & {
    sharp: boolean | null;
    lastOnly: boolean;
    nearDb: number | null;
    spanLowHz: number | null;
    spanHighHz: number | null;
    firstDriveDb: number;
  };

function limits({ name, sharp }: Limits): string {
  return `${name ? `‘${name}’` : 'It'} limits${sharp ? ' sharply' : ''}`;
}

function onlyLast({ lastOnly }: Limits): string {
  return lastOnly ? ' (last run only)' : '';
}

/** ': 11–28 Hz from −12 to −9 dB of drive, near 98.2 dB'; of two regions where each begins to limit, of more which begin first, where these are no more than two. */
function earliest(values: Limits, say: Format): string {
  const regions = regionsIn(values);
  const { spanLowHz, spanHighHz, firstDriveDb } = values;
  if (spanLowHz !== null && spanHighHz !== null) {
    const first = regions.map(({ lowHz, highHz }) => say.hzRange(lowHz, highHz));
    const where = first.length > 0 ? `, first at ${say.list(first)}` : '';
    return ` (${say.hzRange(spanLowHz, spanHighHz)})${where} from ${say.drive(firstDriveDb)} of drive`;
  }
  if (regions.length > 1) {
    const each = regions.map((one) => `${say.hzRange(one.lowHz, one.highHz)} from ${say.drive(one.fromDriveDb)}`);
    return `: ${each.join(', ')} of drive`;
  }
  const near = values.nearDb === null ? '' : `, near ${say.db(values.nearDb)}`;
  return `: ${say.hzRange(regions[0].lowHz, regions[0].highHz)} from ${driveRange(regions[0].fromDriveDb, regions[0].toDriveDb, say)} of drive${near}`;
}
