import type { Curve, Interval } from '../../model/curve';
import { caveatsFor } from '../../response/caveatsFor';
import type { ChosenHighPass } from './chooseHighPass';
import { highPassDb, layoutOf, sectionsOf } from './highPassModel';

/** Less of a fall than this says little about the order, dB. */
const ENOUGH_FALL_DB = 9;
/** A lead of the best order this small is no proof (Bayesian weight 20 to 1 is 6). */
const SURE_LEAD = 6;
/** The room is still in a curve that a fit misses by so much, dB. */
const LARGE_MISFIT_DB = 1;

/** Say what speaks against taking a fitted roll-off at face value. */
export function rollOffCaveats(
  curve: Curve,
  rangeHz: Interval,
  { shape, fit, lead }: ChosenHighPass,
  f0Hz: number,
  rmsErrorDb: number,
): string[] {
  const caveats: string[] = [];
  const hz = (value: number) => Number(value.toPrecision(3));
  const fall = -highPassDb(sectionsOf(shape, fit.parameters), rangeHz[0]);
  const { low, slope } = layoutOf(shape);
  if (fall < ENOUGH_FALL_DB) {
    caveats.push(
      `Only ${fall.toFixed(1)} dB of the roll-off are in the range from ${hz(rangeHz[0])} Hz; order and slope rest on little.`,
    );
  }
  if (lead < SURE_LEAD) caveats.push('Another order explains the curve nearly as well.');
  if (shape.lowPass) {
    const corner = Math.exp(fit.parameters[low]);
    caveats.push(`An upper roll-off near ${hz(corner)} Hz was fitted along with it.`);
  }
  if (shape.tilt) caveats.push(`A tilt of ${fit.parameters[slope].toFixed(1)} dB per octave was fitted along with it.`);
  if (rmsErrorDb > LARGE_MISFIT_DB) {
    caveats.push(
      `The fit misses the curve by ${rmsErrorDb.toFixed(1)} dB: the room, or something else, is still in it.`,
    );
  }
  return [...caveats, ...caveatsFor(curve, [[rangeHz[0], Math.max(f0Hz, rangeHz[0] * 1.01)]])];
}
