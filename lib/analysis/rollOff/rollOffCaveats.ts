import type { Caveat } from '../../model/caveat';
import type { Curve } from '../../model/curve';
import { caveatsFor } from '../../response/caveatsFor';
import { asCaveats } from '../../words/makeCaveat';
import type { ChosenHighPass } from './chooseHighPass';
import { highPassDb, layoutOf, type Section } from './highPassShape';
import type { RollOffRange } from './rollOffRange';

/** Less of a fall than this says little about the order, dB. */
const ENOUGH_FALL_DB = 9;
/** The pass band is in sight where the high-pass takes no more than this off at the upper end, dB. */
const IN_PASS_BAND_DB = 1;
/** A lead of the best order this small is no proof (evidence of 20 to 1 is 6). */
const SURE_LEAD = 6;
/** The room is still in a curve that a fit misses by so much, dB. */
const LARGE_MISFIT_DB = 1;
/** An upper low-pass shares in the shape of the roll-off where its corner lies within so many times the other's. */
const NEAR = 4;
const NOTABLE_TILT_DB = 0.2;

/** Say what speaks against taking a fitted roll-off at face value. */
export function rollOffCaveats(
  curve: Curve,
  { rangeHz: [low, high], floorHz }: RollOffRange,
  { shape, fit, lead }: ChosenHighPass,
  sections: readonly Section[],
  f0Hz: number,
  rmsErrorDb: number,
): Caveat[] {
  const caveats: string[] = [];
  const hz = (value: number) => Number(value.toPrecision(3));
  const layout = layoutOf(shape);
  const fall = -highPassDb(sections, low);
  if (fall < ENOUGH_FALL_DB) {
    const shown = `Only ${fall.toFixed(1)} dB of the roll-off are in the range from ${hz(low)} Hz`;
    caveats.push(`${shown}; order and slope rest on little.`);
  }
  if (highPassDb(sections, high) < -IN_PASS_BAND_DB) {
    caveats.push(`The curve has not come to its pass band by ${hz(high)} Hz; corner and Q rest on little.`);
  }
  if (floorHz) {
    caveats.push(
      `Around ${hz(floorHz)} Hz the curve stops falling (noise, or the room); it was fitted from ${hz(low)} Hz.`,
    );
  }
  if (lead < SURE_LEAD) caveats.push('Another order explains the curve nearly as well.');
  const corner = shape.lowPass ? Math.exp(fit.parameters[layout.low]) : Number.POSITIVE_INFINITY;
  if (corner < NEAR * f0Hz) caveats.push(`An upper roll-off near ${hz(corner)} Hz was fitted along with it.`);
  const tilt = shape.tilt ? fit.parameters[layout.slope] : 0;
  if (Math.abs(tilt) >= NOTABLE_TILT_DB) {
    caveats.push(`A tilt of ${tilt.toFixed(1)} dB per octave was fitted along with it.`);
  }
  if (rmsErrorDb > LARGE_MISFIT_DB) {
    const by = `The fit misses the curve by ${rmsErrorDb.toFixed(1)} dB`;
    caveats.push(`${by}: the room, or something else, is still in it.`);
  }
  return [...asCaveats(caveats), ...caveatsFor(curve, [[low, Math.max(f0Hz, low * 1.01)]])];
}
