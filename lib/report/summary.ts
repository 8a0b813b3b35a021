import { captureViews } from '../analysis/conclusions/captureViews';
import { quotedFit } from '../analysis/conclusions/quotedFit';
import { settingGroups } from '../analysis/conclusions/settingGroups';
import { shownRuns } from '../analysis/conclusions/shownRuns';
import type { BandFit, Findings, Ladder, RollOff, RoomFeature, SettingDifference } from '../model/findings';
import { ENGLISH as say } from '../words/format';

/** The most that a node's status may hold and still be read at a glance. */
export const SUMMARY_LENGTH = 32;

const NOTHING = 'nothing found';

/**
 * Say in at most 32 characters what band fits found: of several runs of a setting the one that speaks for it (a limiter
 * holds its runs flat where the unit is not), of several settings the widest.
 *
 * @param others findings that tell which runs are limited.
 *
 * @example
 * summariseBandFit(fits) // '18.2–104 Hz in 5 dB'
 */
export function summariseBandFit(fits: BandFit[], others: Findings = {}): string {
  if (fits.length === 0) return NOTHING;
  const findings = { ...others, bandFit: fits };
  const groups = settingGroups([], findings, captureViews(findings, []));
  const shown = shownRuns(groups, findings);
  const quoted = groups.flatMap((group, k) => quotedFit(group, shown[k]) ?? []);
  const widest = (quoted.length > 0 ? quoted : fits).reduce((best, fit) => (fit.octaves > best.octaves ? fit : best));
  const range = `${say.hertz(widest.lowHz)}–${say.hertz(widest.highHz)} Hz`;
  const found = `${range} in ${say.short(widest.heightDb)} dB`;
  const setting = widest.about.setting;
  return firstThatFits(quoted.length > 1 && setting ? `${found}, ${setting}` : found, found, range);
}

/** Say in at most 32 characters how the lowest of some roll-offs falls: '18.9 Hz, 24 dB/octave'. */
export function summariseRollOff(rollOffs: RollOff[]): string {
  if (rollOffs.length === 0) return NOTHING;
  const known = rollOffs.filter((one): one is RollOff & { f0Hz: number } => one.f0Hz !== null);
  const slopeOf = (one: RollOff) => `${say.short(one.slopeDbPerOctave, 0)} dB/octave`;
  if (known.length === 0) return `${slopeOf(rollOffs[0])}, no alignment`;
  const lowest = known.reduce((best, one) => (one.f0Hz < best.f0Hz ? one : best));
  const at = `${say.hertz(lowest.f0Hz)} Hz`;
  const q = lowest.q === null ? '' : `, Q ${lowest.q.toFixed(2)}`;
  return firstThatFits(`${at}${q}, ${slopeOf(lowest)}`, `${at}, ${slopeOf(lowest)}`, at);
}

/** Say in at most 32 characters how many rungs there are and where limiting sets in first: '9 rungs, limits 14–28 Hz +12 dB'. */
export function summariseLadder(ladders: Ladder[]): string {
  if (ladders.length === 0) return NOTHING;
  const rungs = ladders.length === 1 ? say.count(ladders[0].rungs.length, 'rung') : say.count(ladders.length, 'ladder');
  const regions = ladders.flatMap((ladder) => ladder.regions);
  if (regions.length === 0) {
    const shown = ladders.every(({ extent }) => extent === 'none');
    return `${rungs}, ${shown ? 'no limiting seen' : 'limits unknown'}`;
  }
  const first = regions.reduce((best, region) => (region.onsetDriveDb < best.onsetDriveDb ? region : best));
  const where = `${first.lowHz.toFixed(0)}–${first.highHz.toFixed(0)} Hz`;
  const from = `${say.signed(first.onsetDriveDb, 0)} dB`;
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
  const [{ kind, at, hingeHz, levelDb }] = differences;
  const level = levelDb === null ? '' : `${say.signed(levelDb, 1)} dB`;
  if (kind === 'none') return 'no change';
  if (kind === 'unknown') return 'change not known';
  if (kind === 'level') return `level ${level}`;
  const lowest = at.find((value) => value.trusted);
  const change = lowest ? `${say.signed(lowest.differenceDb, 1)} dB at ${say.hertz(lowest.frequencyHz)} Hz` : level;
  const name = hingeHz === null ? (kind === 'low-pass' ? kind : 'other change') : `hinge ${say.hertz(hingeHz)} Hz`;
  return firstThatFits(change ? `${name}, ${change}` : name, name);
}

/** The first wording short enough; the last one cut where none is. */
function firstThatFits(...wordings: string[]): string {
  return (
    wordings.find((wording) => wording.length <= SUMMARY_LENGTH) ??
    wordings[wordings.length - 1].slice(0, SUMMARY_LENGTH)
  );
}
