import type { BandFit, Ladder, RollOff, RoomFeature, SettingDifference } from '../model/findings';
import { ENGLISH as say } from '../words/format';

/** The most that a node's status may hold and still be read at a glance. */
export const SUMMARY_LENGTH = 32;

const NOTHING = 'nothing found';

/**
 * Say in at most 32 characters what band fits found; of several, the widest.
 *
 * @example
 * summariseBandFit(fits) // '18.2-104 Hz in 5 dB'
 */
export function summariseBandFit(fits: BandFit[]): string {
  if (fits.length === 0) return NOTHING;
  const widest = fits.reduce((best, fit) => (fit.octaves > best.octaves ? fit : best));
  const range = `${say.hertz(widest.lowHz)}-${say.hertz(widest.highHz)} Hz`;
  const found = `${range} in ${say.short(widest.heightDb)} dB`;
  return firstThatFits(fits.length > 1 ? `${found}, best of ${fits.length}` : found, found, range);
}

/** Say in at most 32 characters how the lowest of some roll-offs falls: '18.9 Hz, 24 dB/octave'. */
export function summariseRollOff(rollOffs: RollOff[]): string {
  if (rollOffs.length === 0) return NOTHING;
  const slopeOf = (one: RollOff) => `${say.short(one.slopeDbPerOctave, 0)} dB/octave`;
  const known = rollOffs.flatMap((one) => {
    const f0Hz = one.f0Hz as number | null;
    return f0Hz === null ? [] : [{ ...one, f0Hz }];
  });
  if (known.length === 0) return `${slopeOf(rollOffs[0])}, no alignment`;
  const lowest = known.reduce((best, one) => (one.f0Hz < best.f0Hz ? one : best));
  const at = `${say.hertz(lowest.f0Hz)} Hz`;
  const q = lowest.q === null ? '' : `, Q ${lowest.q.toFixed(2)}`;
  return firstThatFits(`${at}${q}, ${slopeOf(lowest)}`, `${at}, ${slopeOf(lowest)}`, at);
}

/** Say in at most 32 characters how many rungs there are and where limiting sets in first: '9 rungs, limits 14-28 Hz +12 dB'. */
export function summariseLadder(ladders: Ladder[]): string {
  if (ladders.length === 0) return NOTHING;
  const rungs = ladders.length === 1 ? say.count(ladders[0].rungs.length, 'rung') : say.count(ladders.length, 'ladder');
  const regions = ladders.flatMap((ladder) => ladder.regions);
  if (regions.length === 0) {
    const shown = ladders.every(({ extent }) => extent === 'none');
    return `${rungs}, ${shown ? 'no limiting seen' : 'limits unknown'}`;
  }
  const first = regions.reduce((best, region) => (region.onsetDriveDb < best.onsetDriveDb ? region : best));
  const where = `${first.lowHz.toFixed(0)}-${first.highHz.toFixed(0)} Hz`;
  const from = `${first.onsetDriveDb < 0 ? '' : '+'}${first.onsetDriveDb.toFixed(0)} dB`;
  return firstThatFits(
    `${rungs}, limits ${where} ${from}`,
    `${rungs}, limits ${first.lowHz.toFixed(0)} Hz ${from}`,
    `${rungs}, limits at ${from}`,
  );
}

/** Say in at most 32 characters which dips and peaks there are: '5 dips, 2 peaks, 6 of the room'. */
export function summariseRoomFeatures(features: RoomFeature[]): string {
  if (features.length === 0) return 'no dips or peaks';
  const dips = features.filter((feature) => feature.kind === 'dip').length;
  const peaks = features.length - dips;
  const ofRoom = features.filter(({ belongsTo }) => belongsTo === 'room').length;
  const counted = [dips > 0 ? say.count(dips, 'dip') : '', peaks > 0 ? say.count(peaks, 'peak') : '']
    .filter(Boolean)
    .join(', ');
  return firstThatFits(`${counted}, ${ofRoom} of the room`, counted);
}

/** Say in at most 32 characters what a switch does: 'hinge 32.1 Hz, −6.2 dB at 10 Hz'. */
export function summariseSettingDifference(differences: SettingDifference[]): string {
  if (differences.length === 0) return NOTHING;
  const [first] = differences;
  const lowest = first.at.find((value) => value.trusted) ?? first.at[0];
  const change = lowest
    ? `${say.signed(lowest.differenceDb, 1)} dB at ${say.hertz(lowest.frequencyHz)} Hz`
    : 'no difference found';
  if (first.hingeHz === null) return firstThatFits(`${change}, no hinge`, change);
  const hinge = `hinge ${say.hertz(first.hingeHz)} Hz`;
  return firstThatFits(`${hinge}, ${change}`, hinge);
}

/** The first wording short enough; the last one cut where none is. */
function firstThatFits(...wordings: string[]): string {
  return (
    wordings.find((wording) => wording.length <= SUMMARY_LENGTH) ??
    wordings[wordings.length - 1].slice(0, SUMMARY_LENGTH)
  );
}
