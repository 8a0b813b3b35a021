import type { Curve, Interval } from '../model/curve';
import { powerOf } from '../model/decibel';
import { BassloomError } from '../model/errors';
import type { SettingDifference } from '../model/findings';
import { interpolate } from '../model/interpolate';
import { makeCurve } from '../model/makeCurve';
import { caveatsFor, untrustedStretches } from '../response/caveatsFor';
import { commonGrid } from '../response/commonGrid';
import { mergeIntervals } from '../response/intervals';
import { snrDb } from '../response/snrDb';
import { type DifferenceSamples, differenceSamples } from './settingDifference/differenceSamples';
import { findHinge } from './settingDifference/findHinge';
import { type DifferenceLine, fitShape } from './settingDifference/fitShape';
import { localLine } from './settingDifference/localLine';

export interface CompareOptions {
  /** Where not to look, Hz: the room's dips, where both runs drown in noise. */
  masksHz?: Interval[];
  /** Where to give the difference, Hz; default 10, 16, 20 and 31.5. */
  atHz?: number[];
}

/** Above this a switch of the low end has done what it does, Hz: tried from the widest range down. */
const TOPS_HZ = [Number.POSITIVE_INFINITY, 250, 160, 110, 80];
/** A shape fits where no octave is off by more than this beyond its scatter, dB, or by more than this share of all it does. */
const FITS_DB = 0.1;
const FITS_SHARE = 0.02;
/** A smaller difference is none, dB. */
const LEAST_DB = 0.3;
/** Two runs of one drive differ by about so much where the switch does nothing, dB; more is a level control. */
const REPEATABILITY_DB = 0.5;
/** An asymptote is seen where the trusted range comes this close to it. */
const SEEN = 0.85;

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
 * a shelf, a shelf with Q or a high-pass where one of them fits, local straight lines otherwise. A difference of less
 * than 0.5 dB that remains where the switch does nothing is taken for repeat scatter and taken out, and a caveat says so.
 * Where no asymptote is seen, the hinge is half of the value at the lowest trusted frequency, and a caveat says so.
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
  const { difference, scatterDb, drivenDb } = subtract(a, b);
  const samples = differenceSamples(difference, scatterDb, masks);
  const names = { a: a.about.setting ?? a.label, b: b.about.setting ?? b.label };
  const device = a.about.device ?? b.about.device;
  const of = { ...(device !== undefined && { device }), ...names, curve: difference };
  const caveats = drivenDb === 0 ? [] : [`The drives differ by ${drivenDb.toFixed(1)} dB; that was taken off.`];
  if (samples.hz.length < 3) {
    caveats.push('Too little of the difference stands out of the noise to be judged.');
    return { ...of, hingeHz: null, asymptoteDb: null, slopeDbPerOctave: null, at: [], caveats };
  }
  const { line, topHz } = chooseLine(samples);
  const repeat = Math.abs(line.offsetDb) < REPEATABILITY_DB;
  const leftDb = repeat ? 0 : line.offsetDb;
  if (Math.abs(line.offsetDb) >= 0.05) caveats.push(offsetCaveat(line.offsetDb, repeat));
  const hinge = readHinge(line, samples, topHz);
  const isTrusted = trustAt(a, b, samples);
  const f = difference.frequencyHz;
  return {
    ...of,
    hingeHz: hinge.hingeHz,
    asymptoteDb: hinge.asymptoteDb === null ? null : hinge.asymptoteDb + leftDb,
    slopeDbPerOctave: hinge.slopeDbPerOctave,
    at: atHz
      .filter((hz) => hz >= f[0] && hz <= f[f.length - 1])
      .map((hz) => ({ frequencyHz: hz, differenceDb: line.db(hz) + leftDb, trusted: isTrusted(hz) })),
    caveats: [...caveats, ...hinge.caveats, ...caveatsFor(a, [[f[0], topHz]]), ...caveatsFor(b, [[f[0], topHz]])],
  };
}

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

/** The difference on the grid of a, and what the noise of both makes each point scatter by, dB. */
function subtract(a: Curve, b: Curve): { difference: Curve; scatterDb: Float64Array; drivenDb: number } {
  const frequencyHz = commonGrid([a, b]);
  const onGrid = (curve: Curve) => interpolate(curve.frequencyHz, curve.levelDb, frequencyHz);
  const drivenDb = (a.about.driveDb ?? 0) - (b.about.driveDb ?? 0) || 0;
  const known = a.about.driveDb !== undefined && b.about.driveDb !== undefined ? drivenDb : 0;
  const [levelsA, levelsB] = [onGrid(a), onGrid(b)];
  const scatters = [a, b].map((curve) => {
    const snr = snrDb(curve);
    return (
      snr &&
      interpolate(
        curve.frequencyHz,
        snr.map((db) => Math.max(db, -10)),
        frequencyHz,
      )
    );
  });
  const scatterDb = Float64Array.from(frequencyHz, (_hz, i) =>
    // a complex Gaussian noise makes a level scatter by 10 / ln 10 * sqrt(2 / snr) dB
    Math.hypot(...scatters.map((snr) => (snr ? (10 / Math.LN10) * Math.sqrt(2 / powerOf(snr[i])) : 0))),
  );
  const { setting: _a, driveDb: _b, ...about } = a.about;
  const difference = makeCurve({
    frequencyHz,
    levelDb: levelsA.map((level, i) => level - levelsB[i] - known),
    label: `${a.about.setting ?? a.label} less ${b.about.setting ?? b.label}`,
    about,
    steps: [{ did: 'difference', with: { a: a.label, b: b.label, idA: a.id, idB: b.id, drivenDb: known } }],
  });
  return { difference, scatterDb, drivenDb: known };
}

/**
 * The widest range, from the bottom up, in which one shape fits; local lines over all where none does. Shapes that
 * leave the top where it was come first: a narrow range lets an offset pass for the foot of a shelf.
 */
function chooseLine(samples: DifferenceSamples): { line: DifferenceLine; topHz: number } {
  const highest = samples.hz[samples.hz.length - 1];
  const tops = TOPS_HZ.filter((top) => top === Number.POSITIVE_INFINITY || top < highest);
  const tried = tops.flatMap((top) => {
    const count = samples.hz.filter((hz) => hz <= top).length;
    const line = fitShape({
      hz: samples.hz.slice(0, count),
      differenceDb: samples.differenceDb.slice(0, count),
      sigma: samples.sigma.slice(0, count),
    });
    return line ? [{ line, topHz: Math.min(top, highest) }] : [];
  });
  const doneDb = (line: DifferenceLine) => Math.abs(line.db(samples.hz[0]));
  const fits = tried.filter(({ line }) => line.restDb <= Math.max(FITS_DB, FITS_SHARE * doneDb(line)));
  return (
    fits.find(({ line }) => Math.abs(line.offsetDb) < REPEATABILITY_DB) ??
    fits[0] ?? { line: localLine(samples), topHz: highest }
  );
}

function readHinge(line: DifferenceLine, { hz }: DifferenceSamples, topHz: number) {
  const lowHz = hz[0];
  const lowestDb = line.db(lowHz);
  const none = { hingeHz: null, asymptoteDb: null, slopeDbPerOctave: null };
  if (Math.abs(lowestDb) < LEAST_DB) {
    return { ...none, caveats: ['The settings differ by less than 0.3 dB at the lowest trusted frequency: no hinge.'] };
  }
  const { asymptoteDb } = line;
  const seen = asymptoteDb !== null && lowestDb / asymptoteDb > SEEN && lowestDb / asymptoteDb < 1 / SEEN;
  const halfDb = (seen ? asymptoteDb : lowestDb) / 2;
  const hingeHz = findHinge(line.db, halfDb, lowHz, topHz);
  const belowHz = hingeHz === null ? lowHz : Math.max(lowHz, hingeHz / 2);
  const octaves = hingeHz === null ? 0 : Math.log2(hingeHz / belowHz);
  return {
    hingeHz,
    asymptoteDb: seen ? asymptoteDb : null,
    slopeDbPerOctave: octaves > 0.1 ? (line.db(belowHz) - halfDb) / octaves : null,
    caveats: seen
      ? []
      : [
          `The difference does not come to rest inside the trusted range; the hinge is where it is half of its ${lowestDb.toFixed(1)} dB at ${Number(lowHz.toPrecision(3))} Hz.`,
        ],
  };
}

function offsetCaveat(offsetDb: number, repeat: boolean): string {
  const by = `The settings differ by ${offsetDb.toFixed(2)} dB where the switch does nothing`;
  return repeat ? `${by}; taken for repeat scatter and taken out.` : `${by}; the hinge is counted from there.`;
}

/** Whether a frequency lies where both runs stand out of the noise and samples were taken. */
function trustAt(a: Curve, b: Curve, { hz }: DifferenceSamples): (hz: number) => boolean {
  const all: Interval[] = [[1e-6, 1e9]];
  const poor = [...untrustedStretches(a, all), ...untrustedStretches(b, all)];
  return (at) =>
    at >= hz[0] * 0.97 && at <= hz[hz.length - 1] * 1.03 && !poor.some(([low, high]) => at >= low && at <= high);
}
