import type { Caveat } from '../../model/caveat';
import type { Curve, Interval } from '../../model/curve';
import type { Ladder, SettingDifference } from '../../model/findings';
import { makeCurve } from '../../model/makeCurve';
import { bandAround } from '../../model/octaves';
import { captureCaveats } from '../../response/captureCaveats';
import { nearNoise, untrustedIn } from '../../response/caveatsFor';
import { mergeIntervals } from '../../response/intervals';
import { weightingOf } from '../../response/weightingOf';
import { makeCaveat } from '../../words/makeCaveat';
import { makeRefusal } from '../../words/makeRefusal';
import { chooseLine } from './chooseLine';
import { differenceSamples } from './differenceSamples';
import { type LimitedBands, limitedBands } from './limitedBands';
import { localLine } from './localLine';
import { type Hinge, isForetold } from './readHinge';
import { REPEATABILITY_DB, readKind } from './readKind';
import { REFERENCE_HZ, type Subtracted, subtract } from './subtract';

export interface CompareOptions {
  /** Where not to look, Hz: the room's dips, where both runs drown in noise. */
  masksHz?: Interval[];
  /** Where to give the difference, Hz; default 10, 16, 20 and 31.5. */
  atHz?: number[];
  /** Compression ladders of both settings: bands in which a run is limited are left out. */
  ladders?: Ladder[];
}

/** Fewer samples, of 1/16 octave, are too few to be judged. */
const FEWEST_SAMPLES = 3;
/**
 * A level control is told from repeat scatter from here, dB: three standard deviations of the difference of two runs of
 * 0.1 dB each where no ladder knows their scatter (common practice, no source).
 */
const LEAST_LEVEL_DB = 0.45;

/**
 * Find what a switch changes: the difference of two settings of one unit in one room, its hinge and its slope.
 *
 * @param a response in one setting. @param b in the other, at the same place; a drive that differs is reckoned off.
 * @param options see {@link CompareOptions}.
 * @returns the difference a - b (`curve`), what kind of change it is, what it does to the level as a whole (`levelDb`) and
 * values at some frequencies, those outside the range left out. Of a shelf: where it is half of its low-frequency
 * asymptote (`hingeHz`), that asymptote net of the level where the trusted range reaches it, the slope over the octave
 * below the hinge (dB per octave, positive where a gains on b downwards).
 * @throws BassloomError `mixed-scales`, `mixed-weightings`, `no-common-range`, `bad-interval`, `bad-frequency`.
 *
 * Notes: the room divides out, since it is the same in both. A drive that differs is reckoned off; where the drive of one
 * run only is known they are compared at equal level from 40 to 80 Hz. Bands in which a ladder shows more than 0.5 dB
 * of compression, or cannot tell, are left out. Numbers are read from a smooth line through the difference: a shelf of
 * first, second or free order, a high-pass or low-pass in one setting, or one whose corner or Q differs, a peak, where
 * one of them fits; local straight lines otherwise. If only a range that ends lower can be fitted, that is used.
 *
 * Kinds: 'shelf' changes all from a frequency down (a high-pass in one setting is one without asymptote); 'level' shifts
 * the whole band; 'low-pass' falls or rises towards the top; 'other' is anything else that is shown; 'none' is shown to
 * be less than 0.5 dB everywhere, from 32 Hz or lower; 'unknown' is what the trusted numbers do not show. An offset of
 * less than 0.45 dB (more, where the ladders scatter more) is taken for repeat scatter, and taken out of curve and values.
 * Where no asymptote is seen, the hinge is half of the value at the lowest trusted frequency, and a caveat says so.
 * Limits: the hinge of a gentle shelf is known no better than repeats agree, some 0.03 octave for 0.05 dB at 5 dB of
 * first order.
 *
 * @example
 * const f = [10, 14, 20, 28, 40, 56, 80, 112, 160];
 * const flat = makeCurve({ frequencyHz: f, levelDb: f.map(() => 80), label: 'flat' });
 * const lifted = makeCurve({ frequencyHz: f, levelDb: f.map((hz) => 80 + 6 / (1 + (hz / 25) ** 3)), label: 'lifted' });
 * compareSettings(lifted, flat).hingeHz // about 25
 */
export function compareSettings(a: Curve, b: Curve, options: CompareOptions = {}): SettingDifference {
  const { masksHz = [], atHz = [10, 16, 20, 31.5], ladders = [] } = options;
  check(a, b, atHz);
  const untrusted = [a, b].map(untrustedIn);
  // a stretch ends on points that are poor themselves, and borders do not count as inside
  const poor = untrusted.flatMap((stretchesIn) =>
    stretchesIn([EVERYWHERE]).map(([low, high]): Interval => [low * (1 - 1e-9), high * (1 + 1e-9)]),
  );
  const limited = [a, b].map((curve) => limitedBands(curve, ladders));
  const limitedHz = limited.flatMap((bands) =>
    [...(bands?.limited ?? []), ...(bands?.untrusted ?? [])].map((hz) => bandAround(hz, 3)),
  );
  const subtracted = subtract(a, b);
  const leftOutHz = mergeIntervals([...mergeIntervals(masksHz), ...poor, ...limitedHz]);
  const { samples, used } = differenceSamples(subtracted.difference, subtracted.noiseScatterDb, leftOutHz);
  const f = subtracted.difference.frequencyHz;
  const lowHz = f[Math.max(0, used.indexOf(true))];
  const device = a.about.device ?? b.about.device;
  const runOf = ({ id, about }: Curve) => ({ curve: id, driveDb: about.driveDb ?? null });
  const of = {
    ...(device !== undefined && { device }),
    ...{ a: a.about.setting ?? a.label, b: b.about.setting ?? b.label },
    runs: { a: runOf(a), b: runOf(b) },
    matchedBy: subtracted.matchedBy,
  };
  const no = { levelDb: null, hingeHz: null, asymptoteDb: null, slopeDbPerOctave: null };
  const caveats = [...matchCaveats(subtracted, a), ...limitCaveats([a, b], limited, ladders, lowHz)];
  if (samples.hz.length < FEWEST_SAMPLES) {
    const tooLittle = makeCaveat('setting-too-little', 'warning', {});
    return { ...of, curve: subtracted.difference, kind: 'unknown', ...no, at: [], caveats: [...caveats, tooLittle] };
  }
  const chosen = chooseLine(samples);
  const { line, topHz } = chosen;
  const isLevelKnown = subtracted.matchedBy === 'drive';
  const levelFromDb = leastLevelDb(a, b, ladders);
  const isNoiseKnown = a.noiseDb !== undefined && b.noiseDb !== undefined;
  const read = readKind(chosen, samples, lowHz, { levelFromDb, isNoiseKnown });
  const isRepeat = isLevelKnown && Math.abs(line.offsetDb) < levelFromDb;
  const removedDb = isRepeat ? line.offsetDb : 0;
  const levelDb = line.offsetDb - removedDb;
  const kind = !isLevelKnown && (read.kind === 'none' || read.kind === 'level') ? 'unknown' : read.kind;
  const hinge = read.kind === 'shelf' ? read.hinge : undefined;
  const measured = localLine(samples);
  const valueAt = (hz: number): number =>
    // beyond what a shape describes, the samples speak; below the lowest of them it says nothing
    hz <= topHz && hz >= samples.hz[0] / 1.1 ? line.db(hz) + levelDb : measured.db(hz) + measured.offsetDb - removedDb;
  return {
    ...of,
    curve: lowered(subtracted.difference, removedDb),
    kind,
    ...no,
    levelDb: isLevelKnown && kind !== 'unknown' && kind !== 'other' ? levelDb : null,
    ...(hinge && {
      hingeHz: hinge.hingeHz,
      asymptoteDb: hinge.asymptoteDb,
      slopeDbPerOctave: hinge.slopeDbPerOctave,
    }),
    at: atHz
      .filter((hz) => hz >= f[0] && hz <= f[f.length - 1])
      .map((hz) => ({ frequencyHz: hz, differenceDb: valueAt(hz), trusted: used[nearest(f, hz)] })),
    caveats: [
      ...caveats,
      ...(Math.abs(removedDb) >= 0.05 ? [makeCaveat('setting-offset-removed', 'remark', { db: removedDb })] : []),
      ...(hinge && isLevelKnown && !isRepeat ? [makeCaveat('setting-level-changed', 'remark', { db: levelDb })] : []),
      ...(hinge ? hingeCaveats(hinge, lowHz) : []),
      ...(hinge && topHz < samples.hz[samples.hz.length - 1]
        ? [makeCaveat('setting-top-differs', 'remark', { topHz })]
        : []),
      ...(kind === 'unknown' ? [makeCaveat('setting-not-shown', 'doubt', { lowestHz: lowHz })] : []),
      ...[a, b].flatMap((curve, i) => noiseCaveats(curve, untrusted[i]([[f[0], topHz]]), lowHz)),
    ],
  };
}

const EVERYWHERE: Interval = [1e-6, 1e9];

function check(a: Curve, b: Curve, atHz: number[]): void {
  if (a.scale !== b.scale) {
    const values = { a: a.label, b: b.label, ofA: a.scale, ofB: b.scale };
    throw makeRefusal('mixed-scales', values, { field: 'scale' });
  }
  const [ofA, ofB] = [a, b].map((curve) => weightingOf(curve) ?? 'Z');
  if (ofA !== ofB) {
    throw makeRefusal('mixed-weightings', { a: a.label, b: b.label, ofA, ofB }, { field: 'steps' });
  }
  const bad = atHz.find((hz) => !(Number.isFinite(hz) && hz > 0));
  if (bad === undefined) return;
  throw makeRefusal('bad-frequency', { value: bad }, { field: 'atHz' });
}

/** Three standard deviations of what two whole runs differ by, where ladders know it. */
function leastLevelDb(a: Curve, b: Curve, ladders: Ladder[]): number {
  const own = ladders.filter((one) => [a, b].some(({ about }) => one.setting === about.setting));
  const scatters = own.flatMap(({ repeatScatterDb }) => repeatScatterDb ?? []);
  return Math.min(2 * REPEATABILITY_DB, Math.max(LEAST_LEVEL_DB, 3 * Math.SQRT2 * Math.max(0, ...scatters)));
}

function lowered(difference: Curve, byDb: number): Curve {
  if (byDb === 0) return difference;
  const { frequencyHz, levelDb, label, about, steps } = difference;
  return makeCurve({
    ...{ frequencyHz, label, about },
    levelDb: levelDb.map((level) => level - byDb),
    steps: steps.map((step) =>
      step.did === 'difference' ? { did: step.did, with: { ...step.with, offsetDb: byDb } } : step,
    ),
  });
}

function matchCaveats({ matchedBy, takenOffDb }: Subtracted, a: Curve): Caveat[] {
  if (matchedBy === 'level') {
    const [lowHz, highHz] = REFERENCE_HZ;
    return [makeCaveat('setting-matched-by-level', 'doubt', { lowHz, highHz })];
  }
  if (a.about.driveDb === undefined) return [makeCaveat('setting-drives-unknown', 'remark', {})];
  return takenOffDb === 0 ? [] : [makeCaveat('setting-drives-differ', 'remark', { db: Math.abs(takenOffDb) })];
}

function limitCaveats(
  runs: Curve[],
  limited: (LimitedBands | undefined)[],
  ladders: Ladder[],
  lowHz: number,
): Caveat[] {
  const nameOf = ({ about, label }: Curve) => about.setting ?? label;
  const unknown = runs.filter((_, i) => ladders.length > 0 && limited[i] === undefined).map(nameOf);
  return [
    ...(unknown.length > 0
      ? [makeCaveat('setting-limiting-unknown', 'remark', { names: unknown.map((name) => `‘${name}’`).join(', ') })]
      : []),
    ...runs.flatMap((run, i) => {
      const say = (code: 'setting-limited' | 'setting-band-untrusted', bandsHz: number[]) => {
        // below all that was used, values are marked and nothing else was read
        const severity = code === 'setting-limited' || bandsHz.some((hz) => hz > lowHz) ? 'doubt' : 'remark';
        return bandsHz.length > 0
          ? [makeCaveat(code, severity, { setting: nameOf(run) }, { curve: run.id, bandsHz })]
          : [];
      };
      return [
        ...say('setting-limited', limited[i]?.limited ?? []),
        ...say('setting-band-untrusted', limited[i]?.untrusted ?? []),
      ];
    }),
  ];
}

function hingeCaveats(hinge: Hinge, lowestHz: number): Caveat[] {
  const values = { lowestDb: hinge.lowestDb, lowestHz };
  if (hinge.asymptoteDb === null) return [makeCaveat('setting-asymptote-not-seen', 'remark', values)];
  return isForetold(hinge) ? [makeCaveat('setting-asymptote-foretold', 'remark', values)] : [];
}

/** A stretch this narrow decides nothing of a difference that is read from octaves. */
const NARROW_OCTAVES = 1 / 6;

/** A doubt where noise takes a part out of what was used; a remark where it only ends it: values there are marked. */
function noiseCaveats(curve: Curve, stretches: Interval[], lowHz: number): Caveat[] {
  const isFelt = stretches.some(([low, high]) => Math.log2(high / Math.max(low, lowHz)) > NARROW_OCTAVES);
  return [...captureCaveats([curve]), ...nearNoise(curve, stretches, isFelt ? 'doubt' : 'remark')];
}

function nearest(f: number[], hz: number): number {
  let best = 0;
  for (let i = 1; i < f.length; i++) if (Math.abs(f[i] - hz) < Math.abs(f[best] - hz)) best = i;
  return best;
}
