import { type BadRuns, badRuns, type CaptureView, captureViews } from '../analysis/conclusions/captureViews';
import { referenceCurves } from '../analysis/reference/referenceCurves';
import { type Caveat, isDoubted } from '../model/caveat';
import type { About, Curve, Measurement, Recording } from '../model/curve';
import type {
  BandFit,
  Distortion,
  Findings,
  Ladder,
  MaximumOutput,
  RollOff,
  SettingConclusion,
} from '../model/findings';
import { type ReportWords, reportWords } from '../words/reportWords';
import { plainName } from './text';

/** All runs of one unit in one switch position, with what was found in them. */
export interface SettingView {
  /** Name for people; empty where the session has only one unnamed setting. */
  name: string;
  device: string;
  setting: string;
  /** Unit and setting as the measurements name them. */
  of: Pick<About, 'device' | 'setting'>;
  /** Responses, lowest drive first. */
  curves: Curve[];
  /** Lowest drive first. */
  fits: BandFit[];
  /** The fit that is quoted: of the run that units are judged by, where it was fitted; else of the quietest that nothing speaks against. */
  fit?: BandFit;
  rollOff?: RollOff;
  ladder?: Ladder;
  distortion?: Distortion;
  maximumOutput?: MaximumOutput;
  /** What its findings come to. */
  conclusion?: SettingConclusion;
  /** Runs that rest on bad captures. */
  bad: BadRuns;
  /** The run that is shown where one stands for all: the one that units are judged by, else that of the quoted fit. */
  judged?: Curve;
  /** Drive of the quietest run, dB: drives are told as steps above it. */
  lowestDriveDb: number;
}

/** Measurements and findings sorted the way the report speaks of them. */
export interface Session {
  topic: string;
  words: ReportWords;
  settings: SettingView[];
  findings: Findings;
  responses: Curve[];
  noise: Curve[];
  corrections: Curve[];
  harmonics: Curve[];
  recordings: Recording[];
  captures: CaptureView[];
  scale: 'spl' | 'relative';
  /** Ways of measuring that were followed; more than one means that results must not be compared. */
  procedures: string[];
}

/**
 * Sort measurements and findings by unit and setting.
 *
 * @param topic name of the unit under test. @param measurements curves and recordings; recordings are not drawn.
 * @param words of the reader's language.
 */
export function sortSession(
  topic: string,
  measurements: Measurement[],
  findings: Findings,
  words: ReportWords = reportWords(),
): Session {
  const curves = measurements.filter((measurement): measurement is Curve => measurement.kind === 'curve');
  const responses = curves.filter((curve) => curve.role === 'response');
  const groups = new Map<string, SettingView>();
  const of = (about: Pick<About, 'device' | 'setting'>): SettingView => {
    const key = keyOf(about);
    const group = groups.get(key) ?? emptyView(about);
    groups.set(key, group);
    return group;
  };
  for (const curve of responses) of(curve.about).curves.push(curve);
  for (const fit of findings.bandFit ?? []) of(fit.about).fits.push(fit);
  for (const ladder of findings.ladder ?? []) of(ladder).ladder ??= ladder;
  const rollOffs = sortByDrive(findings.rollOff ?? []);
  for (const rollOff of rollOffs) of(rollOff.about);
  for (const one of findings.distortion ?? []) of(wholeAbout(one, groups)).distortion ??= one;
  for (const one of findings.maximumOutput ?? []) of(wholeAbout(one, groups)).maximumOutput ??= one;
  for (const one of findings.conclusions?.settings ?? []) {
    const view = groups.get(keyOf(wholeAbout(one, groups)));
    if (view) view.conclusion ??= one;
  }

  const captures = captureViews(findings, responses);
  const settings = [...groups.values()];
  const judged = new Set(judgedRuns(curves, findings.ladder ?? []));
  const devices = new Set(settings.map((view) => view.device));
  for (const view of settings) {
    view.bad = badRuns(view.of, view.curves, captures);
    view.curves = sortByDrive(view.curves);
    view.fits = sortByDrive(view.fits);
    const shown = view.conclusion?.shown?.curve;
    view.fit =
      view.fits.find(({ curve }) => curve === shown) ??
      view.fits.find((fit) => judged.has(runKey(fit.about))) ??
      quietestTrusted(view.fits);
    view.judged =
      view.curves.find(({ id }) => id === shown) ??
      view.curves.find((curve) => judged.has(runKey(curve.about))) ??
      view.curves.find(
        ({ id, about }) => id === view.fit?.curve || runKey(about) === (view.fit && runKey(view.fit.about)),
      ) ??
      view.curves[0];
    const falls = rollOffs.filter((one) => of(one.about) === view);
    view.rollOff =
      falls.find(({ curve }) => curve === shown) ??
      falls.find((one) => judged.has(runKey(one.about))) ??
      quietestTrusted(falls);
    view.lowestDriveDb =
      view.ladder?.rungs[0]?.driveDb ??
      view.curves[0]?.about.driveDb ??
      view.fits[0]?.about.driveDb ??
      view.distortion?.rungs[0]?.driveDb ??
      0;
    view.name = [devices.size > 1 ? view.device : '', view.setting].filter(Boolean).join(' · ');
  }
  return {
    topic: plainName(topic),
    words,
    settings,
    findings,
    responses,
    noise: curves.filter((curve) => curve.role === 'noise'),
    corrections: curves.filter((curve) => curve.role === 'correction'),
    harmonics: curves.filter((curve) => curve.role === 'harmonic'),
    recordings: measurements.filter((measurement): measurement is Recording => measurement.kind === 'recording'),
    captures,
    scale: scaleOf(responses, findings),
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

function keyOf({ device, setting }: Pick<About, 'device' | 'setting'>): string {
  return JSON.stringify([device ?? '', setting ?? '']);
}

function runKey({ device, setting, driveDb }: About): string {
  return JSON.stringify([device, setting, driveDb]);
}

function emptyView(about: Pick<About, 'device' | 'setting'>): SettingView {
  const view = { name: '', device: plainName(about.device ?? ''), setting: plainName(about.setting ?? '') };
  const bad = { curves: new Set<string>(), drivesDb: new Set<number>() };
  return { ...view, of: about, curves: [], fits: [], bad, lowestDriveDb: 0 };
}

/** What a finding leaves open of unit and setting is taken from the only setting of the session that it can mean. */
function wholeAbout(
  { device, setting }: Pick<About, 'device' | 'setting'>,
  groups: Map<string, SettingView>,
): Pick<About, 'device' | 'setting'> {
  const meant = [...groups.values()].filter(
    ({ of }) => (device ?? of.device) === of.device && (setting ?? of.setting) === of.setting,
  );
  const exact = meant.find(({ of }) => of.device === device && of.setting === setting);
  return exact?.of ?? (meant.length === 1 ? meant[0].of : { device, setting });
}

/** That of the responses; without any, that of the findings that carry one. */
function scaleOf(responses: Curve[], findings: Findings): Session['scale'] {
  const known = responses.length > 0 ? responses : [...(findings.distortion ?? []), ...(findings.maximumOutput ?? [])];
  return known.length > 0 && known.every(({ scale }) => scale === 'spl') ? 'spl' : 'relative';
}

function sortByDrive<T extends { about: About }>(items: T[]): T[] {
  const drive = (item: T): number => item.about.driveDb ?? Number.NEGATIVE_INFINITY;
  return items
    .map((item, index) => ({ item, index }))
    .sort((a, b) => (drive(a.item) === drive(b.item) ? a.index - b.index : drive(a.item) - drive(b.item)))
    .map(({ item }) => item);
}

function quietestTrusted<T extends { caveats: Caveat[] }>(lowestFirst: T[]): T | undefined {
  return lowestFirst.find((one) => !isDoubted(one)) ?? lowestFirst[0];
}

/** Name of a run wherever it is told of: its drive as it was given, else its label. */
export function nameOfRun({ label, about }: { label: string; about: About }, { figure }: ReportWords): string {
  return about.driveDb === undefined ? plainName(label) : figure.run(about.driveDb);
}
