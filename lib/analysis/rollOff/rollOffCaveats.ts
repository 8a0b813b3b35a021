import type { Caveat } from '../../model/caveat';
import type { Curve, Interval } from '../../model/curve';
import { captureCaveats } from '../../response/captureCaveats';
import { caveatsFor, untrustedStretches } from '../../response/caveatsFor';
import { makeCaveat } from '../../words/makeCaveat';
import type { ChosenHighPass } from './chooseHighPass';
import { highPassDb, layoutOf, type Section } from './highPassShape';
import type { RollOffRange } from './rollOffRange';

/** Less of a fall than this says little about the order, dB. */
const ENOUGH_FALL_DB = 9;
/** The pass band is in sight where the high-pass takes no more than this off at the upper end, dB. */
const IN_PASS_BAND_DB = 1;
/** A lead of the best order this small is no proof (evidence of 20 to 1 is 6). */
const SURE_LEAD = 6;
/** The room is still in a curve that a fit misses by more, dB rms (common practice, no source). */
export const LARGE_MISFIT_DB = 1;
/** An upper low-pass shares in the shape of the roll-off where its corner lies within so many times the other's. */
const NEAR = 4;
const NOTABLE_TILT_DB = 0.2;
/** The fit knows the noise and gives it its weight: less than this part of the fall near it (hum, a dip) decides nothing. */
const NOISY_PART = 0.25;

/** Say what speaks against taking a fitted roll-off at face value. */
export function rollOffCaveats(
  curve: Curve,
  { rangeHz: [low, high], floorHz }: RollOffRange,
  { shape, fit, lead }: ChosenHighPass,
  sections: readonly Section[],
  f0Hz: number,
  rmsErrorDb: number,
): Caveat[] {
  const caveats: Caveat[] = [];
  const where = { curve: curve.id };
  const layout = layoutOf(shape);
  const misfits = rmsErrorDb > LARGE_MISFIT_DB;
  const fallDb = -highPassDb(sections, low);
  // nothing of the fit is stated then: the slope that is comes from the curve itself
  if (misfits) caveats.push(makeCaveat('roll-off-misfit', 'remark', { rmsErrorDb }, where));
  if (fallDb < ENOUGH_FALL_DB) {
    caveats.push(makeCaveat('roll-off-little-fall', 'doubt', { fallDb, fromHz: low }, where));
  }
  if (floorHz) caveats.push(makeCaveat('roll-off-floor', 'doubt', { floorHz, fromHz: low }, where));
  // what follows speaks of the high-pass, and of one that misses the curve nothing is stated
  if (!misfits) {
    if (highPassDb(sections, high) < -IN_PASS_BAND_DB) {
      caveats.push(makeCaveat('roll-off-no-pass-band', 'doubt', { toHz: high }, where));
    }
    if (lead < SURE_LEAD) caveats.push(makeCaveat('roll-off-other-order', 'remark', {}, where));
    const cornerHz = shape.lowPass ? Math.exp(fit.parameters[layout.low]) : Number.POSITIVE_INFINITY;
    if (cornerHz < NEAR * f0Hz) caveats.push(makeCaveat('roll-off-upper', 'remark', { cornerHz }, where));
    const tiltDb = shape.tilt ? fit.parameters[layout.slope] : 0;
    if (Math.abs(tiltDb) >= NOTABLE_TILT_DB) caveats.push(makeCaveat('roll-off-tilt', 'remark', { tiltDb }, where));
  }
  const used: Interval = [low, Math.max(f0Hz, low * 1.01)];
  const noisy = untrustedStretches(curve, [used]).reduce((sum, [from, to]) => sum + Math.log2(to / from), 0);
  const isNoisy = noisy > NOISY_PART * Math.log2(used[1] / used[0]);
  return [...caveats, ...(isNoisy ? caveatsFor(curve, [used]) : captureCaveats([curve]))];
}
