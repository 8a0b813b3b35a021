import { isDoubted } from '../../model/caveat';
import type { Findings, SettingConclusion } from '../../model/findings';
import { rungOf } from '../reference/ladderOf';
import { soundBands } from '../reference/soundBands';
import type { SettingGroup } from './settingGroups';

type Shown = SettingConclusion['shown'];

interface Run {
  curve: string;
  label: string;
  driveDb: number | null;
  /** Bands in which it shows the unit itself; null where no ladder tells. */
  sound: number[] | null;
  isBad: boolean;
  fit: 'none' | 'doubted' | 'trusted';
}

/**
 * Choose the run that speaks for each setting. All settings of a unit are shown at one drive where there is one at which
 * each is trusted and not compressed: the one that the settings were compared at, else the one with the most bands that
 * are sound in all of them, of equal ones the lowest.
 *
 * @returns one for each group; null where no run is known.
 */
export function shownRuns(groups: readonly SettingGroup[], findings: Findings): Shown[] {
  const runs = groups.map(runsOf);
  const shown = runs.map(chooseAlone);
  const units = new Map<string | undefined, number[]>();
  for (const [k, { device }] of groups.entries()) units.set(device, [...(units.get(device) ?? []), k]);
  for (const [device, members] of units) {
    const known = members.filter((k) => runs[k].length > 0);
    if (known.length < 2) continue;
    const together = chooseTogether(
      known.map((k) => runs[k]),
      comparedAt(findings, device),
    );
    together?.forEach((run, i) => {
      shown[known[i]] = { ...asShown(run), why: 'equal drive' };
    });
  }
  return shown;
}

function runsOf({ curves, fits, ladder, bad }: SettingGroup): Run[] {
  const bands = ladder ? soundBands(ladder) : [];
  const runs =
    curves.length > 0
      ? curves.map(({ id, label, about }) => ({ id, label, about }))
      : fits.map((fit) => ({ id: fit.curve, label: fit.label, about: fit.about }));
  return runs.map(({ id, label, about }) => {
    const rung = ladder ? rungOf(ladder, id, about.driveDb) : -1;
    const fit = fits.find(({ curve }) => curve === id);
    return {
      curve: id,
      label,
      driveDb: about.driveDb ?? null,
      sound: ladder ? (ladder.bandsHz.filter((_, band) => bands[rung]?.[band]) ?? []) : null,
      isBad: bad.curves.has(id) || (about.driveDb !== undefined && bad.drivesDb.has(about.driveDb)),
      fit: fit ? (isDoubted(fit) ? 'doubted' : 'trusted') : 'none',
    };
  });
}

function chooseAlone(runs: Run[]): Shown {
  if (runs.length === 0) return null;
  if (runs.length === 1) return { ...asShown(runs[0]), why: 'only run' };
  const good = runs.some(({ isBad }) => !isBad) ? runs.filter(({ isBad }) => !isBad) : runs;
  const soundest = Math.max(0, ...good.map(({ sound }) => sound?.length ?? 0));
  if (soundest > 0) {
    return { ...asShown(good.find(({ sound }) => sound?.length === soundest) as Run), why: 'least compressed' };
  }
  const trusted = good.find(({ fit }) => fit === 'trusted');
  return trusted ? { ...asShown(trusted), why: 'quietest trusted' } : { ...asShown(good[0]), why: 'quietest' };
}

/** One run of each setting, all at one drive; undefined where no drive will do. */
function chooseTogether(settings: Run[][], comparedDb: number | null): Run[] | undefined {
  const sets = settings[0].flatMap((first) => {
    const set = settings.map((runs) => runs.find((run) => !run.isBad && isAt(run, first.driveDb)));
    return set.includes(undefined) ? [] : [set as Run[]];
  });
  // without ladders nothing is known of soundness; runs that were fitted, and nothing said against, serve
  const worth = (set: Run[]): number => {
    if (set.every(({ sound }) => sound === null)) return set.filter(({ fit }) => fit === 'trusted').length;
    const [first, ...others] = set.flatMap(({ sound }) => (sound ? [sound] : []));
    return first.filter((hz) => others.every((bands) => bands.includes(hz))).length;
  };
  const fitted = (set: Run[]): number => set.filter(({ fit }) => fit !== 'none').length;
  const most = Math.max(0, ...sets.map(fitted));
  const usable = sets.filter((set) => fitted(set) === most && worth(set) > 0);
  if (usable.length === 0) return undefined;
  const compared = comparedDb === null ? undefined : usable.find(([one]) => isAt(one, comparedDb));
  return compared ?? usable.reduce((best, set) => (worth(set) > worth(best) ? set : best));
}

function isAt(run: Run, driveDb: number | null): boolean {
  if (driveDb === null || run.driveDb === null) return driveDb === run.driveDb;
  return Math.abs(run.driveDb - driveDb) < 0.01;
}

/** The one drive at which settings of a unit were compared; null where that is not known, or differs. */
function comparedAt({ settingDifference = [] }: Findings, device: string | undefined): number | null {
  const drives = settingDifference
    .filter((one) => one.device === device)
    .map(({ runs }) => (runs && runs.a.driveDb === runs.b.driveDb ? runs.a.driveDb : null));
  return drives.length > 0 && drives.every((one) => one === drives[0]) ? (drives[0] ?? null) : null;
}

function asShown({ curve, label, driveDb }: Run): Omit<NonNullable<Shown>, 'why'> {
  return { curve, label, driveDb };
}
