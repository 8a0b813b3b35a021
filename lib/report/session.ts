import { type CaptureView, captureViews } from '../analysis/conclusions/captureViews';
import { quotedFit, quotedRollOff } from '../analysis/conclusions/quotedFit';
import { groupMeant, type SettingGroup, settingGroups } from '../analysis/conclusions/settingGroups';
import type { About, Curve, Measurement, Recording } from '../model/curve';
import type { BandFit, Findings, RollOff, SettingConclusion } from '../model/findings';
import { type ReportWords, reportWords } from '../words/reportWords';
import { plainName } from './text';

/** All runs of one unit in one switch position, with what was found in them and what it comes to. */
export interface SettingView extends SettingGroup {
  /** The fit and the roll-off that are quoted: of the run that is shown where it has them. */
  fit?: BandFit;
  rollOff?: RollOff;
  /** What its findings come to. */
  conclusion?: SettingConclusion;
  /** The run that is shown where one stands for all. */
  judged?: Curve;
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
 * Sort measurements and findings by unit and setting, as the conclusions do.
 *
 * @param topic name of the unit under test. @param measurements curves and recordings; recordings are not drawn.
 * @param findings with conclusions. @param words of the reader's language.
 */
export function sortSession(
  topic: string,
  measurements: Measurement[],
  findings: Findings,
  words: ReportWords = reportWords(),
): Session {
  const curves = measurements.filter((measurement): measurement is Curve => measurement.kind === 'curve');
  const responses = curves.filter((curve) => curve.role === 'response');
  const captures = captureViews(findings, responses);
  const groups = settingGroups(measurements, findings, captures);
  const concluded = findings.conclusions?.settings ?? [];
  return {
    topic: plainName(topic),
    words,
    settings: groups.map((group) =>
      viewOf(
        group,
        concluded.find((one) => groupMeant(groups, one) === group),
      ),
    ),
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

function viewOf(group: SettingGroup, conclusion?: SettingConclusion): SettingView {
  const shown = conclusion?.shown ?? null;
  const fit = quotedFit(group, shown);
  const { curves } = group;
  const judged =
    curves.find(({ id }) => id === shown?.curve) ?? curves.find(({ id }) => id === fit?.curve) ?? curves[0];
  return { ...group, fit, rollOff: quotedRollOff(group, shown), conclusion, judged };
}

/** That of the responses; without any, that of the findings that carry one. */
function scaleOf(responses: Curve[], findings: Findings): Session['scale'] {
  const known = responses.length > 0 ? responses : [...(findings.distortion ?? []), ...(findings.maximumOutput ?? [])];
  return known.length > 0 && known.every(({ scale }) => scale === 'spl') ? 'spl' : 'relative';
}

/** Name of a run wherever it is told of: its drive as it was given, else its label. */
export function nameOfRun({ label, about }: { label: string; about: About }, { figure }: ReportWords): string {
  return about.driveDb === undefined ? plainName(label) : figure.run(about.driveDb);
}
