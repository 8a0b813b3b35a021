import type { Caveat } from '../../model/caveat';
import type { About, Curve } from '../../model/curve';
import type { CaptureQuality, Findings } from '../../model/findings';
import { captureOf, sharedMarks } from '../../response/captureWarnings';
import { plainName } from '../../words/plainName';

/** One capture of the session: what was found of it, or what the curves that come from it still know. */
export interface CaptureView {
  /** Id of the recording. */
  id: string;
  label: string;
  about: About;
  verdict: CaptureQuality['verdict'];
  warnings: Caveat[];
  /** Only where the finding itself is at hand. */
  quality?: CaptureQuality;
}

/** All captures that findings or curves tell of, each once; of curves only the bad and the doubtful ones. */
export function captureViews(findings: Findings, curves: Curve[]): CaptureView[] {
  const views = new Map<string, CaptureView>();
  for (const quality of findings.captureQuality ?? []) {
    const { recording, label, about, verdict, warnings } = quality;
    views.set(recording, { id: recording, label: plainName(label), about, verdict, warnings, quality });
  }
  for (const curve of curves) {
    for (const { capture, label, verdict, warnings } of sharedMarks([curve]).captures ?? []) {
      if (views.has(capture)) continue;
      views.set(capture, { id: capture, label: plainName(label), about: curve.about, verdict, warnings });
    }
  }
  return [...views.values()];
}

/** Whether a curve rests on a bad capture: its own, or any of those that it was averaged from. */
export function isBadCurve(curve: Curve, captures: CaptureView[]): boolean {
  const marks = sharedMarks([curve]).captures ?? [];
  const own = captureOf(curve);
  // A curve with a capture of its own may also name those of its noise runs, which do not make it bad.
  const counted = own === undefined ? marks : marks.filter(({ capture }) => capture === own);
  const judged = captures.filter(({ id }) => id === own);
  return [...counted, ...judged].some(({ verdict }) => verdict === 'bad');
}

/** Runs of one unit and setting that rest on bad captures. */
export interface BadRuns {
  curves: Set<string>;
  /** Drives at which no other run was measured, dB. */
  drivesDb: Set<number>;
}

/** Find the runs that rest on bad captures; where no curves are at hand, what the captures say of themselves counts. */
export function badRuns(about: Pick<About, 'device' | 'setting'>, curves: Curve[], captures: CaptureView[]): BadRuns {
  const bad = curves.filter((curve) => isBadCurve(curve, captures));
  const drives = curves.map((curve) => ({ driveDb: curve.about.driveDb, bad: bad.includes(curve) }));
  const own = captures
    .filter((one) => one.about.device === about.device && one.about.setting === about.setting)
    .map((one) => ({ driveDb: one.about.driveDb, bad: one.verdict === 'bad' }));
  const runs = drives.length > 0 ? drives : own;
  const good = new Set(runs.filter((run) => !run.bad).map((run) => run.driveDb));
  return {
    curves: new Set(bad.map(({ id }) => id)),
    drivesDb: new Set(runs.flatMap(({ driveDb }) => (driveDb === undefined || good.has(driveDb) ? [] : [driveDb]))),
  };
}

/** Whether a rung rests on a bad capture. @param id of the curve it was read from. */
export function isBadRung({ curves, drivesDb }: BadRuns, id: string, driveDb: number): boolean {
  return curves.has(id) || drivesDb.has(driveDb);
}
