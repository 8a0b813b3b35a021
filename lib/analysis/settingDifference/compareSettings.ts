import type { Curve, Interval } from '../../model/curve';
import { BassloomError } from '../../model/errors';
import type { SettingDifference } from '../../model/findings';
import { caveatsFor, untrustedIn } from '../../response/caveatsFor';
import { mergeIntervals } from '../../response/intervals';
import { asCaveats } from '../../words/makeCaveat';
import { chooseLine } from './chooseLine';
import { differenceSamples } from './differenceSamples';
import { readHinge } from './readHinge';
import { subtract } from './subtract';

export interface CompareOptions {
  /** Where not to look, Hz: the room's dips, where both runs drown in noise. */
  masksHz?: Interval[];
  /** Where to give the difference, Hz; default 10, 16, 20 and 31.5. */
  atHz?: number[];
}

/** Two runs of one drive differ by less where the switch does nothing, dB; more is a level control. */
const REPEATABILITY_DB = 0.5;
/** Fewer samples, of 1/16 octave, are too few to be judged. */
const FEWEST_SAMPLES = 3;

/**
 * Find what a switch changes: the difference of two settings of one unit in one room, its hinge and its slope.
 *
 * @param a response in one setting. @param b in the other, at the same place; a drive that differs is reckoned off.
 * @param options see {@link CompareOptions}.
 * @returns the difference a - b: as measured (`curve`), the frequency where it is half of its low-frequency asymptote
 * (`hingeHz`), that asymptote where the trusted range reaches it, the slope over the octave below the hinge (dB per
 * octave, positive where a gains on b downwards), and values at some frequencies, those outside the range left out.
 * @throws BassloomError `mixed-scales`, `no-common-range`, `bad-interval`, `bad-frequency`.
 *
 * Notes: the room divides out, since it is the same in both. Numbers are read from a smooth line through the difference:
 * a shelf of first, second or free order, a high-pass in one setting, or a high-pass whose corner or Q differs, where one
 * of them fits; local straight lines otherwise. If only a range that ends lower can be fitted, that is used. A difference
 * of less than 0.5 dB that remains where the switch does nothing is taken for repeat scatter and taken out, and a caveat
 * says so; a larger one stays in the values and in the asymptote, and the hinge is counted from it. Where no asymptote is
 * seen, the hinge is half of the value at the lowest trusted frequency, and a caveat says so. Limits: the hinge of a
 * gentle shelf is known no better than repeats agree, some 0.03 octave for 0.05 dB at 5 dB of first order.
 *
 * @example
 * const f = [10, 14, 20, 28, 40, 56, 80, 112, 160];
 * const flat = makeCurve({ frequencyHz: f, levelDb: f.map(() => 80), label: 'flat' });
 * const lifted = makeCurve({ frequencyHz: f, levelDb: f.map((hz) => 80 + 6 / (1 + (hz / 25) ** 3)), label: 'lifted' });
 * compareSettings(lifted, flat).hingeHz // about 25
 */
export function compareSettings(a: Curve, b: Curve, options: CompareOptions = {}): SettingDifference {
  const { masksHz = [], atHz = [10, 16, 20, 31.5] } = options;
  check(a, b, atHz);
  const masks = mergeIntervals(masksHz);
  const untrusted = [a, b].map(untrustedIn);
  const poor = untrusted.flatMap((stretchesIn) => stretchesIn([EVERYWHERE]));
  const { difference, noiseScatterDb, drivenDb } = subtract(a, b);
  const { samples, used } = differenceSamples(difference, noiseScatterDb, [...masks, ...poor]);
  const caveats = drivenDb === 0 ? [] : [`The drives differ by ${drivenDb.toFixed(1)} dB; that was taken off.`];
  const device = a.about.device ?? b.about.device;
  const names = { a: a.about.setting ?? a.label, b: b.about.setting ?? b.label };
  const runOf = ({ id, about }: Curve) => ({ curve: id, driveDb: about.driveDb ?? null });
  const runs = { a: runOf(a), b: runOf(b) };
  const of = {
    runs,
    matchedBy: 'drive' as const,
    ...(device !== undefined && { device }),
    ...names,
    curve: difference,
  };
  if (samples.hz.length < FEWEST_SAMPLES) {
    caveats.push('Too little of the difference stands out of the noise to be judged.');
    return {
      ...of,
      hingeHz: null,
      asymptoteDb: null,
      slopeDbPerOctave: null,
      at: [],
      kind: 'unknown',
      levelDb: null,
      caveats: asCaveats(caveats),
    };
  }
  const { line, topHz } = chooseLine(samples);
  const repeat = Math.abs(line.offsetDb) < REPEATABILITY_DB;
  const leftDb = repeat ? 0 : line.offsetDb;
  if (Math.abs(line.offsetDb) >= 0.05) caveats.push(offsetCaveat(line.offsetDb, repeat));
  const f = difference.frequencyHz;
  const hinge = readHinge(line, samples, f[used.indexOf(true)], topHz);
  return {
    ...of,
    kind: hinge.hingeHz === null ? 'unknown' : 'shelf',
    levelDb: leftDb,
    hingeHz: hinge.hingeHz,
    asymptoteDb: hinge.asymptoteDb === null ? null : hinge.asymptoteDb + leftDb,
    slopeDbPerOctave: hinge.slopeDbPerOctave,
    at: atHz
      .filter((hz) => hz >= f[0] && hz <= f[f.length - 1])
      .map((hz) => ({ frequencyHz: hz, differenceDb: line.db(hz) + leftDb, trusted: used[nearest(f, hz)] })),
    caveats: [
      ...asCaveats([...caveats, ...hinge.caveats]),
      ...[a, b].flatMap((curve, i) => caveatsFor(curve, [[f[0], topHz]], untrusted[i])),
    ],
  };
}

const EVERYWHERE: Interval = [1e-6, 1e9];

function check(a: Curve, b: Curve, atHz: number[]): void {
  if (a.scale !== b.scale) {
    throw new BassloomError('mixed-scales', `${a.label} is ${a.scale}, ${b.label} is ${b.scale}; both must be alike.`, {
      field: 'scale',
    });
  }
  const bad = atHz.find((hz) => !(Number.isFinite(hz) && hz > 0));
  if (bad === undefined) return;
  throw new BassloomError('bad-frequency', `atHz: ${bad} is no frequency; give numbers above 0 in Hz.`, {
    field: 'atHz',
  });
}

function offsetCaveat(offsetDb: number, repeat: boolean): string {
  const by = `The settings differ by ${offsetDb.toFixed(2)} dB where the switch does nothing`;
  return repeat ? `${by}; taken for repeat scatter and taken out.` : `${by}; the hinge is counted from there.`;
}

function nearest(f: number[], hz: number): number {
  let best = 0;
  for (let i = 1; i < f.length; i++) if (Math.abs(f[i] - hz) < Math.abs(f[best] - hz)) best = i;
  return best;
}
