import type { Distortion } from '../model/findings';
import { nominalHz } from '../model/octaves';
import { ENGLISH as say } from '../words/format';
import { SUMMARY_LENGTH } from './summary';

/**
 * Say in at most 32 characters how many rungs there are and where THD passes the first percentage first.
 *
 * @example
 * summariseDistortion(distortion) // '6 rungs, 3 % at 20 Hz +9 dB'
 */
export function summariseDistortion(found: Distortion[]): string {
  if (found.length === 0) return 'nothing found';
  const rungs = found.length === 1 ? say.count(found[0].rungs.length, 'rung') : say.count(found.length, 'setting');
  const [first] = found[0].passes;
  const percent = `${say.short(first.percent)} %`;
  const crossings = found.flatMap(({ bandsHz, passes }) =>
    bandsHz.flatMap((hz, band) => {
      const driveDb = passes[0].driveDb[band];
      return driveDb === null ? [] : [{ hz, driveDb }];
    }),
  );
  if (crossings.length > 0) {
    const { hz, driveDb } = crossings.reduce((best, one) => (one.driveDb < best.driveDb ? one : best));
    const where = `${percent} at ${nominalHz(hz)} Hz +${driveDb.toFixed(0)} dB`;
    const whole = `${rungs}, ${where}`;
    return whole.length <= SUMMARY_LENGTH ? whole : where;
  }
  const isKnown = found.some(({ passes }) => passes[0].levelDb.some((level) => level !== null));
  return `${rungs}, ${isKnown ? `below ${percent}` : 'THD lost in noise'}`;
}
