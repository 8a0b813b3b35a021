import { powerMeanDb } from '../../model/decibel';
import type { Ladder, SettingConclusion } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import { type BadRuns, isBadRung } from './captureViews';

type Shape = NonNullable<SettingConclusion['shape']>;

/** The reference band that points are counted from, too (common practice), by nominal centres, Hz. */
const REFERENCE_HZ = [40, 50, 63, 80];
/** Where a shape is judged, nominal centres, Hz: from the first that demanding programme holds to where rooms take over. */
const LOWEST_HZ = 16;
const HIGHEST_HZ = 160;
/** Bands up to here are the bottom; between the two, what holds the bottom may reach up. */
const BOTTOM_TO_HZ = 31.5;
const REST_FROM_HZ = 63;
/** A change within this is none, dB: about what runs scatter by. */
const KEPT_DB = 1;
/** Of a bottom that is lost, other bands may change by this share and it is still the bottom that is lost. A choice. */
const BESIDES = 1 / 3;
/** A rung whose trusted bands lost more than this is not what it looks like at low drive, dB. */
const UNCOMPRESSED_DB = 0.5;
/** Less drive than this between low and high says nothing, dB: two common steps. */
const LEAST_SPAN_DB = 6;

/**
 * Judge whether a response keeps its shape as it gets louder: levels re the reference band (power mean of the bands from
 * 40 to 80 Hz) at the loudest rung, less the same at a quiet one, band by band, trusted where both levels are.
 *
 * @param ladder levels and trust. @param bad rungs that come from bad captures, which are passed over.
 * @returns 'unknown' where the reference band, or any of the bottom, is not known at two drives at least 6 dB apart. Rungs
 * on both sides of a break are not compared.
 *
 * Notes: the quiet rung is the one with the most trusted bands in which nothing is compressed yet; of equal ones the lowest.
 */
export function shapeWithDrive(ladder: Ladder, bad: BadRuns): Shape | null {
  const { rungs, bandsHz } = ladder;
  if (rungs.length === 0) return null;
  const names = bandsHz.map(nominalHz);
  const judged = names.flatMap((hz, band) => (hz >= LOWEST_HZ && hz <= HIGHEST_HZ ? [band] : []));
  const best = pairsOf(ladder, bad, judged)
    .map(([low, high]) => compare(ladder, low, high, judged))
    .reduce<Comparison | undefined>((one, other) => (one && worthOf(one) >= worthOf(other) ? one : other), undefined);
  const [low, high] = best ? [best.low, best.high] : [0, rungs.length - 1];
  const at = judged.map((band, k) => ({
    frequencyHz: names[band],
    changeDb: best?.changesDb[k] ?? null,
    trusted: best?.changesDb[k] !== undefined && best.changesDb[k] !== null,
  }));
  return { kind: kindOf(at), lowDriveDb: rungs[low].driveDb, highDriveDb: rungs[high].driveDb, at };
}

interface Comparison {
  low: number;
  high: number;
  spanDb: number;
  /** Of the judged bands; null where one of the levels cannot be trusted. */
  changesDb: (number | null)[];
}

/** More trusted bands count before more drive. */
function worthOf({ changesDb, spanDb }: Comparison): number {
  return changesDb.filter((change) => change !== null).length * 1000 + spanDb;
}

/** Rungs that may be compared: the loudest between two breaks with each quiet one where nothing is compressed yet. */
function pairsOf(ladder: Ladder, bad: BadRuns, judged: number[]): [low: number, high: number][] {
  const { rungs, breaks, trusted, compressionDb } = ladder;
  const starts = new Set(breaks.map(({ between }) => rungs.findIndex(({ id }) => id === between[1])));
  const parts: number[][] = [[]];
  rungs.forEach(({ id, driveDb }, k) => {
    if (starts.has(k)) parts.push([]);
    if (!isBadRung(bad, id, driveDb)) parts[parts.length - 1].push(k);
  });
  const isLoud = (k: number): boolean => referenceBands(ladder, k, k).length > 0;
  const isQuiet = (k: number): boolean =>
    isLoud(k) && judged.every((band) => !trusted[k][band] || Math.abs(compressionDb[k][band] ?? 0) <= UNCOMPRESSED_DB);
  return parts.flatMap((part) => {
    const high = part.findLast(isLoud);
    if (high === undefined) return [];
    const low = part.filter((k) => rungs[high].driveDb - rungs[k].driveDb >= LEAST_SPAN_DB && isQuiet(k));
    return low.map((k): [number, number] => [k, high]);
  });
}

/** Bands of the reference that are trusted at both rungs; none where they are fewer than half of it. */
function referenceBands({ bandsHz, trusted, levelDb }: Ladder, low: number, high: number): number[] {
  const known = bandsHz.flatMap((hz, band) =>
    REFERENCE_HZ.includes(nominalHz(hz)) && [low, high].every((k) => trusted[k]?.[band] && levelDb[k][band] !== null)
      ? [band]
      : [],
  );
  return known.length * 2 >= REFERENCE_HZ.length ? known : [];
}

function compare(ladder: Ladder, low: number, high: number, judged: number[]): Comparison {
  const { rungs, levelDb, trusted } = ladder;
  const reference = referenceBands(ladder, low, high);
  const spanDb = rungs[high].driveDb - rungs[low].driveDb;
  if (reference.length === 0) return { low, high, spanDb, changesDb: judged.map(() => null) };
  const [lowDb, highDb] = [low, high].map((k) => powerMeanDb(reference.map((band) => levelDb[k][band] as number)));
  const changesDb = judged.map((band) => {
    const [quiet, loud] = [levelDb[low][band], levelDb[high][band]];
    if (quiet === null || loud === null || !trusted[low][band] || !trusted[high][band]) return null;
    return loud - highDb - (quiet - lowDb);
  });
  return { low, high, spanDb, changesDb };
}

/** What the trusted changes come to. */
function kindOf(at: Shape['at']): Shape['kind'] {
  const known = at.flatMap(({ frequencyHz: hz, changeDb, trusted }) =>
    trusted && changeDb !== null ? [{ hz, changeDb }] : [],
  );
  const bottom = known.filter(({ hz }) => hz <= BOTTOM_TO_HZ);
  if (bottom.length < 2 || known.length * 2 < at.length) return 'unknown';
  if (known.every(({ changeDb }) => Math.abs(changeDb) <= KEPT_DB)) return 'kept';
  const worst = bottom.reduce((a, b) => (Math.abs(b.changeDb) > Math.abs(a.changeDb) ? b : a)).changeDb;
  const sign = Math.sign(worst);
  const besidesDb = Math.max(KEPT_DB, Math.abs(worst) * BESIDES);
  const isBottom =
    Math.abs(worst) > KEPT_DB &&
    bottom.every(({ changeDb }) => sign * changeDb >= -besidesDb) &&
    known.every(({ hz, changeDb }) => {
      if (hz <= BOTTOM_TO_HZ) return true;
      const isBetween = hz < REST_FROM_HZ && sign * changeDb > 0;
      return Math.abs(changeDb) <= (isBetween ? Math.abs(worst) : besidesDb);
    });
  if (!isBottom) return 'bends';
  return worst < 0 ? 'loses bottom' : 'gains bottom';
}

/** The change to be told of a shape: at 20 Hz where it tells, else the largest; of 'bends' always the largest. */
export function tellingChange({ at, kind }: Shape): { hz: number; changeDb: number } | null {
  const known = at.flatMap(({ frequencyHz: hz, changeDb, trusted }) =>
    trusted && changeDb !== null ? [{ hz, changeDb }] : [],
  );
  const bottom = kind === 'bends' ? known : known.filter(({ hz }) => hz <= BOTTOM_TO_HZ);
  if (bottom.length === 0) return null;
  const at20 = bottom.find(({ hz, changeDb }) => hz === 20 && Math.abs(changeDb) > KEPT_DB);
  if (at20 && kind !== 'bends') return at20;
  return bottom.reduce((a, b) => (Math.abs(b.changeDb) > Math.abs(a.changeDb) ? b : a));
}
