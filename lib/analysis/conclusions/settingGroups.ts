import { type Caveat, isDoubted } from '../../model/caveat';
import type { About, Curve, Measurement } from '../../model/curve';
import type { BandFit, Distortion, Findings, Ladder, MaximumOutput, RollOff } from '../../model/findings';
import { plainName } from '../../words/plainName';
import { type BadRuns, badRuns, type CaptureView } from './captureViews';

/** All runs of one unit in one setting, and what was found in them. */
export interface SettingGroup {
  /** As the measurements have them. */
  device?: string;
  setting?: string;
  /** For people; empty where a session has only one unnamed setting. */
  name: string;
  /** Responses, lowest drive first, as all lists are. */
  curves: Curve[];
  fits: BandFit[];
  rollOffs: RollOff[];
  ladder?: Ladder;
  distortion?: Distortion;
  maximumOutput?: MaximumOutput;
  /** Runs that come from bad captures. */
  bad: BadRuns;
}

/**
 * Sort measurements and findings by unit and setting, in the order in which responses, then findings, name them.
 *
 * @param captures as `captureViews` lists them.
 */
export function settingGroups(
  measurements: readonly Measurement[],
  findings: Findings,
  captures: CaptureView[],
): SettingGroup[] {
  const groups = new Map<string, SettingGroup>();
  const of = ({ device, setting }: Pick<About, 'device' | 'setting'>): SettingGroup => {
    const key = JSON.stringify([device ?? '', setting ?? '']);
    const bad = { curves: new Set<string>(), drivesDb: new Set<number>() };
    const group = groups.get(key) ?? { device, setting, name: '', curves: [], fits: [], rollOffs: [], bad };
    groups.set(key, group);
    return group;
  };
  for (const one of measurements) if (one.kind === 'curve' && one.role === 'response') of(one.about).curves.push(one);
  for (const one of findings.bandFit ?? []) of(one.about).fits.push(one);
  for (const one of findings.ladder ?? []) of(one).ladder ??= one;
  for (const one of findings.rollOff ?? []) of(one.about).rollOffs.push(one);
  for (const one of findings.distortion ?? []) of(groupMeant(groups.values(), one) ?? one).distortion ??= one;
  for (const one of findings.maximumOutput ?? []) of(groupMeant(groups.values(), one) ?? one).maximumOutput ??= one;
  const all = [...groups.values()];
  const severalUnits = new Set(all.map(({ device }) => device ?? '')).size > 1;
  for (const group of all) {
    group.curves = lowestFirst(group.curves);
    group.fits = lowestFirst(group.fits);
    group.rollOffs = lowestFirst(group.rollOffs);
    group.bad = badRuns(group, group.curves, captures);
    const parts = [severalUnits ? group.device : '', group.setting].map((part) => plainName(part ?? ''));
    group.name = parts.filter(Boolean).join(' · ');
  }
  return all;
}

/** The group that a finding speaks of: what it leaves open of unit and setting is taken from the only one that it can mean. */
export function groupMeant<T extends Pick<About, 'device' | 'setting'>>(
  groups: Iterable<T>,
  { device, setting }: Pick<About, 'device' | 'setting'>,
): T | undefined {
  const meant = [...groups].filter(
    (one) => (device ?? one.device) === one.device && (setting ?? one.setting) === one.setting,
  );
  return (
    meant.find((one) => one.device === device && one.setting === setting) ?? (meant.length === 1 ? meant[0] : undefined)
  );
}

function lowestFirst<T extends { about: About }>(items: T[]): T[] {
  const drive = ({ about }: T): number => about.driveDb ?? Number.NEGATIVE_INFINITY;
  // two drives that are not known are equal, though their difference is no number
  return [...items].sort((a, b) => (drive(a) === drive(b) ? 0 : drive(a) - drive(b)));
}

/** The quietest of some findings that nothing speaks against; without one, the quietest. */
export function quietestTrusted<T extends { caveats: Caveat[] }>(lowestFirst: readonly T[]): T | undefined {
  return lowestFirst.find((one) => !isDoubted(one)) ?? lowestFirst[0];
}
