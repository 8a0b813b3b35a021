import type { Curve, Interval } from '../../model/curve';
import type { RollOff } from '../../model/findings';
import { checkInterval, mergeIntervals } from '../../response/intervals';
import { refuseWeighted } from '../../response/refuseWeighted';
import { makeRefusal } from '../../words/makeRefusal';
import { logSamples } from '../fitting/logSamples';
import { alignmentName } from './alignmentName';
import { asymptoticSlope } from './asymptoticSlope';
import { chooseHighPass } from './chooseHighPass';
import { highPassDb, sectionsOf } from './highPassShape';
import { meanFall } from './meanFall';
import { LARGE_MISFIT_DB, rollOffCaveats } from './rollOffCaveats';
import { rollOffRange } from './rollOffRange';

export interface RollOffOptions {
  /** Range to fit. Default: from the lowest trusted frequency to where a high-pass no longer shapes the curve. */
  rangeHz?: Interval;
  /** Ranges left out (what belongs to the room). */
  masksHz?: Interval[];
  /** Take an A- or C-weighted curve as it is. Default false: refuse it. */
  allowWeighted?: boolean;
}

/** Fewest samples that say anything about a curve with a gain, a corner and a quality. */
const FEWEST_SAMPLES = 8;
/** A curve that falls by less than this shows no roll-off, dB. */
const LEAST_FALL_DB = 1;

/**
 * Fit the roll-off at the low end of a response with a high-pass.
 *
 * High-passes of order 1 to 6 with free gain, without and with an upper low-pass beside them, are fitted to the curve
 * thinned out to 16 samples per octave; the simplest that explains it is reported.
 *
 * @param curve a response, best with the room's own transfer divided out and its noise attached. @param options see
 * RollOffOptions.
 * @returns `f0Hz` where the two asymptotes of the high-pass meet (pass band and fall): of second order its resonance, of
 * Butterworth its -3 dB point, of others the geometric mean of the sections' corners; `q` of second order only;
 * `slopeDbPerOctave` the slope towards 0 Hz: 6.02 dB times the order, plus what the curve's lowest trusted octave shows
 * beyond the fit; `rmsErrorDb` of the fit over its range; the alignment by name. Where the fit misses the curve by more
 * than 1 dB rms, corner, Q and alignment are null, and the slope is the mean one of the fall over `rangeHz`.
 * @throws BassloomError `bad-interval`, `too-few-points`, `no-roll-off`, `weighted-curve` of an A- or C-weighted curve
 * unless `allowWeighted`.
 *
 * A known noise is added to the model, not taken off the curve. In a room with the room still in, the figures describe
 * unit and room together.
 *
 * Reference: R. H. Small, Closed-Box Loudspeaker Systems, J. Audio Eng. Soc. 20 (1972); G. Schwarz, Ann. Statist. 6
 * (1978) 461-464 (choice of the order).
 *
 * @example
 * const frequencyHz = Array.from({ length: 60 }, (_, i) => 8 * 2 ** (i / 12));
 * const levelDb = frequencyHz.map((f) => 90 - 10 * Math.log10(1 + (30 / f) ** 4));
 * fitRollOff(makeCurve({ frequencyHz, levelDb })) // f0Hz 30, q 0.707, order 2, 'Butterworth'
 */
export function fitRollOff(curve: Curve, options: RollOffOptions = {}): RollOff {
  if (!options.allowWeighted) refuseWeighted(curve);
  const masksHz = mergeIntervals(options.masksHz ?? []);
  if (options.rangeHz) checkInterval(options.rangeHz, 'rangeHz');
  const found = rollOffRange(curve, masksHz, options.rangeHz);
  const samples = logSamples(curve, found.rangeHz, masksHz);
  const [lowHz, highHz] = found.rangeHz;
  if (samples.hz.length < FEWEST_SAMPLES) {
    const values = { label: curve.label, points: samples.hz.length, fewest: FEWEST_SAMPLES, lowHz, highHz };
    throw makeRefusal('too-few-points', values, { field: 'rangeHz' });
  }
  const chosen = chooseHighPass(samples, found);
  const sections = sectionsOf(chosen.shape, chosen.fit.parameters);
  const f0Hz = asymptotesMeet(sections);
  if (!(-highPassDb(sections, found.rangeHz[0]) > LEAST_FALL_DB && f0Hz < found.rangeHz[1])) {
    const values = { label: curve.label, lowHz, highHz, cornerHz: f0Hz };
    throw makeRefusal('no-roll-off', values, { field: 'rangeHz' });
  }
  const { order } = chosen.shape;
  const rmsErrorDb = weightedRms(chosen.fit.residuals, chosen.sigma);
  const isKnown = rmsErrorDb <= LARGE_MISFIT_DB;
  return {
    curve: curve.id,
    label: curve.label,
    about: curve.about,
    ...(isKnown
      ? {
          f0Hz,
          q: order === 2 ? sections[0].q : null,
          slopeDbPerOctave: asymptoticSlope(samples, chosen, f0Hz),
          alignment: alignmentName(sections, f0Hz),
          rangeHz: found.rangeHz,
        }
      : { f0Hz: null, q: null, alignment: null, ...meanFall(samples, found.cornerHz) }),
    order,
    rmsErrorDb,
    caveats: rollOffCaveats(curve, found, chosen, sections, f0Hz, rmsErrorDb),
  };
}

/** Geometric mean of the corners, pairs counted twice: far below, the level falls as (f / f0)^order. */
function asymptotesMeet(sections: readonly { f0Hz: number; q: number | null }[]): number {
  let sum = 0;
  let order = 0;
  for (const { f0Hz, q } of sections) {
    const weight = q === null ? 1 : 2;
    sum += weight * Math.log(f0Hz);
    order += weight;
  }
  return Math.exp(sum / order);
}

function weightedRms(residuals: Float64Array, sigma: Float64Array): number {
  let square = 0;
  let weights = 0;
  for (let i = 0; i < sigma.length; i++) {
    square += (residuals[i] / sigma[i]) ** 2;
    weights += sigma[i] ** -2;
  }
  return Math.sqrt(square / weights);
}
