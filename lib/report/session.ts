import { referenceCurves } from '../analysis/reference/referenceCurves';
import type { About, Curve, Measurement } from '../model/curve';
import type { BandFit, Findings, Ladder, RollOff } from '../model/findings';
import { plainName } from './text';

/** All runs of one unit in one switch position, with what was found in them. */
export interface SettingView {
  /** Name for people; empty where the session has only one unnamed setting. */
  name: string;
  device: string;
  setting: string;
  /** Responses, lowest drive first. */
  curves: Curve[];
  /** Lowest drive first. */
  fits: BandFit[];
  /** The fit that is quoted: of the run that units are judged by, where it was fitted; else of the quietest that nothing speaks against. */
  fit?: BandFit;
  rollOff?: RollOff;
  ladder?: Ladder;
  /** The run that is shown where one stands for all: the one that units are judged by, else that of the quoted fit. */
  judged?: Curve;
  /** Drive of the quietest run, dB: drives are told as steps above it. */
  lowestDriveDb: number;
}

/** Measurements and findings sorted the way the report speaks of them. */
export interface Session {
  topic: string;
  settings: SettingView[];
  findings: Findings;
  responses: Curve[];
  noise: Curve[];
  corrections: Curve[];
  scale: 'spl' | 'relative';
  /** Ways of measuring that were followed; more than one means that results must not be compared. */
  procedures: string[];
}

/**
 * Sort measurements and findings by unit and setting.
 *
 * @param topic name of the unit under test. @param measurements curves and recordings; recordings are not drawn.
 */
export function sortSession(topic: string, measurements: Measurement[], findings: Findings): Session {
  const curves = measurements.filter((measurement): measurement is Curve => measurement.kind === 'curve');
  const responses = curves.filter((curve) => curve.role === 'response');
  const groups = new Map<string, SettingView>();
  const of = (about: Pick<About, 'device' | 'setting'>): SettingView => {
    const key = JSON.stringify([about.device ?? '', about.setting ?? '']);
    const group = groups.get(key) ?? emptyView(about);
    groups.set(key, group);
    return group;
  };
  for (const curve of responses) of(curve.about).curves.push(curve);
  for (const fit of findings.bandFit ?? []) of(fit.about).fits.push(fit);
  for (const ladder of findings.ladder ?? []) of(ladder).ladder ??= ladder;
  const rollOffs = sortByDrive(findings.rollOff ?? []);
  for (const rollOff of rollOffs) of(rollOff.about);

  const settings = [...groups.values()];
  const judged = new Set(judgedRuns(curves, findings.ladder ?? []));
  const devices = new Set(settings.map((view) => view.device));
  for (const view of settings) {
    view.curves = sortByDrive(view.curves);
    view.fits = sortByDrive(view.fits);
    view.fit = view.fits.find((fit) => judged.has(runKey(fit.about))) ?? quietestTrusted(view.fits);
    view.judged =
      view.curves.find((curve) => judged.has(runKey(curve.about))) ??
      view.curves.find(
        ({ id, about }) => id === view.fit?.curve || runKey(about) === (view.fit && runKey(view.fit.about)),
      ) ??
      view.curves[0];
    const falls = rollOffs.filter((one) => of(one.about) === view);
    view.rollOff = falls.find((one) => judged.has(runKey(one.about))) ?? quietestTrusted(falls);
    view.lowestDriveDb =
      view.ladder?.rungs[0]?.driveDb ?? view.curves[0]?.about.driveDb ?? view.fits[0]?.about.driveDb ?? 0;
    view.name = [devices.size > 1 ? view.device : '', view.setting].filter(Boolean).join(' · ');
  }
  return {
    topic: plainName(topic),
    settings,
    findings,
    responses,
    noise: curves.filter((curve) => curve.role === 'noise'),
    corrections: curves.filter((curve) => curve.role === 'correction'),
    scale: responses.length > 0 && responses.every((curve) => curve.scale === 'spl') ? 'spl' : 'relative',
    procedures: [...new Set(responses.map((curve) => plainName(curve.about.procedure ?? '')))],
  };
}

/** The runs that units are judged by, of those that have a ladder already: none is built here. */
function judgedRuns(curves: Curve[], ladders: Ladder[]): string[] {
  const built = curves.filter(
    ({ role, about }) =>
      role === 'response' &&
      ladders.some(({ device, setting }) => device === about.device && setting === about.setting),
  );
  return referenceCurves(built, ladders).map((curve) => runKey(curve.about));
}

function runKey({ device, setting, driveDb }: About): string {
  return JSON.stringify([device, setting, driveDb]);
}

function emptyView(about: Pick<About, 'device' | 'setting'>): SettingView {
  const view = { name: '', device: plainName(about.device ?? ''), setting: plainName(about.setting ?? '') };
  return { ...view, curves: [], fits: [], lowestDriveDb: 0 };
}

function sortByDrive<T extends { about: About }>(items: T[]): T[] {
  const drive = (item: T): number => item.about.driveDb ?? Number.NEGATIVE_INFINITY;
  return items
    .map((item, index) => ({ item, index }))
    .sort((a, b) => (drive(a.item) === drive(b.item) ? a.index - b.index : drive(a.item) - drive(b.item)))
    .map(({ item }) => item);
}

function quietestTrusted<T extends { caveats: string[] }>(lowestFirst: T[]): T | undefined {
  return lowestFirst.find((one) => one.caveats.length === 0) ?? lowestFirst[0];
}
