import type { Caveat } from '../../model/caveat';
import type { Curve, Interval } from '../../model/curve';
import type { BandFit } from '../../model/findings';
import { captureCaveats } from '../../response/captureCaveats';
import { caveatsFor, nearNoise, TRUSTED_SNR_DB, untrustedIn } from '../../response/caveatsFor';
import { checkInterval, mergeIntervals } from '../../response/intervals';
import { refuseWeighted } from '../../response/refuseWeighted';
import { smoothLevels } from '../../response/smoothLevels';
import { trustedRange } from '../../response/trustedRange';
import { makeCaveat } from '../../words/makeCaveat';
import { makeRefusal } from '../../words/makeRefusal';
import { type DownPoints, findDownPoints } from './findDownPoints';
import { neededHeight } from './neededHeight';
import { octavesOf, type UnmaskedLine, unmaskedLine } from './unmaskedLine';
import { widestRange } from './widestRange';

export interface BandFitOptions {
  /** Height of the window, dB, > 0. Default 5 (common practice, no source). */
  heightDb?: number;
  /** Range to tell the needed height for. */
  rangeHz?: Interval;
  /** Ranges whose points do not count (what belongs to the room). */
  masksHz?: Interval[];
  /** n of 1/n octave to smooth over before. Default 12; null: as it is. */
  smoothing?: number | null;
  /** What -3, -6 and -10 dB are counted from. Default 'band'. */
  reference?: 'band' | 'maximum';
  /** Default 40 to 80 Hz. */
  referenceBandHz?: Interval;
  /** Take an A- or C-weighted curve as it is. Default false: refuse it. */
  allowWeighted?: boolean;
}

/**
 * Find the widest frequency range that a window of given height holds, and how deep the response reaches.
 *
 * On the smoothed curve, as straight lines in dB over log frequency, this is the contiguous range, widest in octaves,
 * in which highest and lowest level differ by no more than the height. Masked points are taken out and the line goes
 * straight on between their neighbours; neither end may lie inside a mask. Where the noise is known, the range is
 * looked for only where the curve stands 10 dB above it: an even floor of noise is no flat response.
 *
 * @param curve a response. @param options see BandFitOptions.
 * @returns the range with its window, the same without masks, a runner-up nearly as wide elsewhere, the needed height
 * for `rangeHz`, and the -3, -6 and -10 dB points: going outward from the reference band (or from the maximum), where it
 * falls below for good; null where the curve ends before. Dips on the way that are narrower than half an octave and beyond
 * which it comes back, for as long and at least 1/6 octave, end nothing; they are named in `lowDipsHz` and `highDipsHz`. Where the curve stands
 * clear of its noise over no third of an octave, there are no points, and a warning says not to use the rest.
 * @throws BassloomError `bad-height`, `bad-fraction`, `bad-reference`, `bad-interval`, `all-masked`,
 * `weighted-curve` of an A- or C-weighted curve unless `allowWeighted`.
 *
 * The reference level is the mean power of the unsmoothed curve over the reference band.
 *
 * @example
 * const curve = makeCurve({ frequencyHz: [10, 20, 40, 80, 160], levelDb: [60, 84, 86, 85, 70] });
 * fitBand(curve, { smoothing: null }).octaves
 */
export function fitBand(curve: Curve, options: BandFitOptions = {}): BandFit {
  const { heightDb = 5, smoothing = 12, rangeHz, reference = 'band', referenceBandHz = [40, 80] } = options;
  checkOptions(curve, { heightDb, smoothing, rangeHz, reference, referenceBandHz });
  if (!options.allowWeighted) refuseWeighted(curve);
  const masksHz = mergeIntervals(options.masksHz ?? []);
  const frequencyHz = new Float64Array(curve.frequencyHz);
  const levelDb = new Float64Array(
    smoothing === null ? curve.levelDb : smoothLevels(frequencyHz, curve.levelDb, smoothing),
  );
  const octaves = octavesOf(frequencyHz);
  const line = unmaskedLine(frequencyHz, levelDb, masksHz, octaves);
  if (line.x.length === 0) {
    throw makeRefusal('all-masked', { label: curve.label }, { field: 'masksHz' });
  }
  const untrusted = untrustedIn(curve);
  const clear = trustedRange(curve, untrusted);
  const isHidden = curve.noiseDb !== undefined && !(clear && Math.log2(clear[1] / clear[0]) >= LEAST_CLEAR_OCTAVES);
  const trusted: Interval = clear && !isHidden ? clear : [frequencyHz[0], frequencyHz[frequencyHz.length - 1]];
  const [from, to] = [frequencyHz.indexOf(trusted[0]), frequencyHz.indexOf(trusted[1]) + 1];
  const lineOfKept = (masks: Interval[]) =>
    unmaskedLine(frequencyHz.subarray(from, to), levelDb.subarray(from, to), masks, octaves.subarray(from, to));
  const looked = lineOfKept(masksHz);
  const { best, runnerUp } = widestRange(looked.x.length > 0 ? looked : line, heightDb);
  const down = findDownPoints(curve, line, masksHz, reference, referenceBandHz, trusted);
  const neededHeightDb = rangeHz && neededHeight(line, Math.log2(rangeHz[0]), Math.log2(rangeHz[1]));
  return {
    curve: curve.id,
    label: curve.label,
    about: curve.about,
    heightDb,
    ...best,
    masksHz,
    withoutMasks: masksHz.length > 0 ? widestRange(lineOfKept([]), heightDb).best : best,
    ...(runnerUp && { runnerUp }),
    ...(neededHeightDb !== undefined && { neededHeightDb }),
    ...(rangeHz && { rangeHz }),
    referenceDb: down.referenceDb,
    points: isHidden ? down.points.map(({ downDb }) => ({ downDb, lowHz: null, highHz: null })) : down.points,
    caveats: isHidden
      ? hiddenCaveats(curve)
      : [
          ...endCaveats(curve, line, best, trusted),
          ...(rangeHz ? rangeCaveats(curve, line, rangeHz) : []),
          ...down.caveats,
          ...noiseCaveats(curve, [best.lowHz, best.highHz], down, untrusted),
        ],
  };
}

/** A range narrower than this may stand out of noise by chance, and is none of use. A choice, no source. */
const LEAST_CLEAR_OCTAVES = 1 / 3;

function hiddenCaveats(curve: Curve): Caveat[] {
  const values = { label: curve.label, snrDb: TRUSTED_SNR_DB };
  return [...captureCaveats([curve]), makeCaveat('fit-in-noise', 'warning', values, { curve: curve.id })];
}

function checkOptions(curve: Curve, given: { heightDb: number; smoothing: number | null } & Record<string, unknown>) {
  if (!(given.heightDb > 0 && Number.isFinite(given.heightDb))) {
    throw makeRefusal('bad-height', { label: curve.label, height: given.heightDb }, { field: 'heightDb' });
  }
  if (given.smoothing !== null && !(given.smoothing > 0 && Number.isFinite(given.smoothing))) {
    throw makeRefusal('bad-fraction', { label: curve.label, fraction: given.smoothing }, { field: 'smoothing' });
  }
  if (given.reference !== 'band' && given.reference !== 'maximum') {
    const values = { label: curve.label, reference: given.reference as string };
    throw makeRefusal('bad-reference', values, { field: 'reference' });
  }
  if (given.rangeHz) checkInterval(given.rangeHz as Interval, 'rangeHz');
  checkInterval(given.referenceBandHz as Interval, 'referenceBandHz');
}

/** What ends the range other than the window: the curve, its noise, a mask. */
function endCaveats(
  curve: Curve,
  { x, masks }: UnmaskedLine,
  { lowHz, highHz }: { lowHz: number; highHz: number },
  trusted: Interval,
): Caveat[] {
  const same = (a: number, at: number) => Math.abs(Math.log2(a) - at) < 1e-9;
  const atLeast = (code: 'range-to-curve-end' | 'range-to-noise', hz: number, end: 'low' | 'high') => {
    if (code === 'range-to-curve-end') return makeCaveat(code, 'remark', { hz, end }, { curve: curve.id });
    const hidden: Interval = end === 'low' ? [2 ** x[0], hz] : [hz, 2 ** x[x.length - 1]];
    return makeCaveat(code, 'doubt', { hz, end }, { curve: curve.id, rangesHz: [hidden] });
  };
  const caveats: Caveat[] = [];
  if (same(lowHz, x[0])) caveats.push(atLeast('range-to-curve-end', lowHz, 'low'));
  else if (lowHz <= trusted[0]) caveats.push(atLeast('range-to-noise', lowHz, 'low'));
  if (same(highHz, x[x.length - 1])) caveats.push(atLeast('range-to-curve-end', highHz, 'high'));
  else if (highHz >= trusted[1]) caveats.push(atLeast('range-to-noise', highHz, 'high'));
  for (const [from, to] of masks) {
    const where = { curve: curve.id, rangesHz: [[2 ** from, 2 ** to] as Interval] };
    if (same(lowHz, to)) caveats.push(makeCaveat('range-to-mask', 'remark', { hz: lowHz, end: 'low' }, where));
    if (same(highHz, from)) caveats.push(makeCaveat('range-to-mask', 'remark', { hz: highHz, end: 'high' }, where));
  }
  return caveats;
}

function rangeCaveats(curve: Curve, { x }: UnmaskedLine, asked: Interval): Caveat[] {
  const shown: Interval = [2 ** x[0], 2 ** x[x.length - 1]];
  if (asked[0] >= shown[0] * (1 - 1e-9) && asked[1] <= shown[1] * (1 + 1e-9)) return [];
  return [makeCaveat('needed-height-of-part', 'doubt', {}, { curve: curve.id, rangesHz: [asked, shown] })];
}

/** Points further down than this are beside what a response is judged by, dB. */
const JUDGED_DOWN_DB = 6;

/**
 * A twelfth of an octave to either side of every frequency that is reported. Noise at the lowest points alone, which every
 * quiet run has, is a remark.
 */
function noiseCaveats(
  curve: Curve,
  ends: number[],
  { points }: DownPoints,
  untrusted: ReturnType<typeof untrustedIn>,
): Caveat[] {
  const around = (places: (number | null)[]) =>
    places.filter((f) => f !== null).map((f): Interval => [f * 2 ** (-1 / 12), f * 2 ** (1 / 12)]);
  const placesOf = (isJudged: boolean) =>
    points
      .filter(({ downDb }) => downDb <= JUDGED_DOWN_DB === isJudged)
      .flatMap(({ lowHz, highHz }) => [lowHz, highHz]);
  const lowest = untrusted(around(placesOf(false)));
  return [...caveatsFor(curve, around([...ends, ...placesOf(true)]), untrusted), ...nearNoise(curve, lowest, 'remark')];
}
