import type { Curve } from '../../model/curve';
import { powerOf } from '../../model/decibel';
import { interpolate } from '../../model/interpolate';
import { makeCurve } from '../../model/makeCurve';
import { commonGrid } from '../../response/commonGrid';
import { smoothLevels } from '../../response/smoothLevels';
import { snrDb } from '../../response/snrDb';

/**
 * Subtract two settings on the grid of the first.
 *
 * @returns the difference a - b; `noiseScatterDb`, what known noise makes each point scatter by; `drivenDb`, by how much
 * the drives differ, which is taken off.
 * @throws BassloomError `no-common-range`.
 */
export function subtract(a: Curve, b: Curve): { difference: Curve; noiseScatterDb: number[]; drivenDb: number } {
  const frequencyHz = commonGrid([a, b]);
  const onGrid = (curve: Curve, column: number[]) => interpolate(curve.frequencyHz, column, frequencyHz);
  const drivesKnown = a.about.driveDb !== undefined && b.about.driveDb !== undefined;
  const drivenDb = drivesKnown ? a.about.driveDb! - b.about.driveDb! : 0;
  const [levelsA, levelsB] = [a, b].map((curve) => onGrid(curve, curve.levelDb));
  const scatters = [a, b].map((curve) => onGrid(curve, noiseScatterDb(curve)));
  const { setting: _a, driveDb: _b, ...about } = a.about;
  const difference = makeCurve({
    frequencyHz,
    levelDb: levelsA.map((level, i) => level - levelsB[i] - drivenDb),
    label: `${a.about.setting ?? a.label} less ${b.about.setting ?? b.label}`,
    about,
    steps: [{ did: 'difference', with: { a: a.label, b: b.label, idA: a.id, idB: b.id, drivenDb } }],
  });
  return {
    difference,
    noiseScatterDb: frequencyHz.map((_, i) => Math.hypot(scatters[0][i], scatters[1][i])),
    drivenDb,
  };
}

/** A complex Gaussian noise makes a level scatter by 10 / ln 10 * sqrt(2 / snr) dB. */
function noiseScatterDb(curve: Curve): number[] {
  const own = snrDb(curve);
  const around = own && snrDb({ levelDb: smoothed(curve, curve.levelDb), noiseDb: smoothed(curve, curve.noiseDb!) });
  if (!own || !around) return curve.frequencyHz.map(() => 0);
  // a bin of a dip is worse than its surroundings, a bin of noise may look better by chance
  return own.map((snr, i) => (10 / Math.LN10) * Math.sqrt(2 / powerOf(Math.max(-10, Math.min(snr, around[i])))));
}

const smoothed = ({ frequencyHz }: Curve, column: number[]) => smoothLevels(frequencyHz, column, 6);
