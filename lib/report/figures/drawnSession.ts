import { isDoubted } from '../../model/caveat';
import type { Curve, Interval } from '../../model/curve';
import { BAD_MARK } from '../captures';
import { drawCurve } from '../charts/drawCurve';
import type { DrawnLine } from '../charts/drawnLine';
import { frequencyRange } from '../charts/frequencyRange';
import { type LevelRange, levelRange } from '../charts/levelRange';
import { driveText } from '../charts/rungAxis';
import { formatCount } from '../format';
import type { Session, SettingView } from '../session';
import { plainName } from '../text';
import { trustOf } from '../trust';

/** Smoothing of drawn responses: the same twelfth of an octave that the band fit reads by default. */
export const DRAWN_FRACTION = 12;

/** All runs of a setting as lines, lowest drive first. */
export interface DrawnSetting {
  view: SettingView;
  lines: DrawnLine[];
}

/** A session with its curves thinned out for drawing and axes shared by all figures, so that they compare. */
export interface DrawnSession {
  session: Session;
  settings: DrawnSetting[];
  rangeHz: Interval;
  level: LevelRange;
}

/** Bands that are spoken of where there are no curves, Hz, rising. */
function bandsOf({ ladder, distortion, maximumOutput }: SettingView): number[] {
  return ladder?.bandsHz ?? distortion?.bandsHz ?? maximumOutput?.centres.map(({ centreHz }) => centreHz) ?? [];
}

/** Thin out all responses once and choose common axes from what is trusted. */
export function drawSession(session: Session): DrawnSession {
  const runs = session.settings.flatMap((view) =>
    view.curves.map((curve) => ({ curve, trusted: trustOf(curve, view.ladder) })),
  );
  const fits = session.settings.flatMap((view) =>
    view.fits.filter((fit) => fit === view.fit || !isDoubted(fit)).map((fit): Interval => [fit.lowHz, fit.highHz]),
  );
  const bands = session.settings.flatMap(bandsOf);
  const wantedHz =
    runs.length > 0 || bands.length < 2 ? fits : [...fits, [bands[0], bands[bands.length - 1]] as Interval];
  const rangeHz = frequencyRange(runs, wantedHz);
  const settings = session.settings.map((view) => ({
    view,
    lines: view.curves.map((curve) =>
      marked(
        drawCurve(curve, nameOfRun(curve, view), {
          rangeHz,
          fraction: DRAWN_FRACTION,
          trusted: trustOf(curve, view.ladder),
        }),
        view.bad.curves.has(curve.id),
      ),
    ),
  }));
  const levels = settings.flatMap(({ lines }) =>
    lines.flatMap((line) => line.points.filter((p) => p.trusted).map((p) => p.value)),
  );
  // The window and the points below it must be seen whole, however tall the ladder is.
  const wantedDb = session.settings.flatMap(({ fit }) => (fit ? [fit.floorDb - 3, fit.referenceDb - 12] : []));
  const spanDb = levels.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY) + 2 - Math.min(...wantedDb);
  const mostDb = Number.isFinite(spanDb) ? Math.max(60, spanDb) : 60;
  return { session, settings, rangeHz, level: levelRange([...levels, ...wantedDb], { mostDb, stepsDb: [5, 10, 20] }) };
}

/** A line with the mark of a bad capture, where it comes from one. */
export function marked(line: DrawnLine, bad: boolean): DrawnLine {
  return bad ? { ...line, label: `${line.label} ${BAD_MARK}`.trim(), bad } : line;
}

/** What is to be said below a figure that holds lines from bad captures. */
export function badWords(lines: DrawnLine[]): string {
  const count = lines.filter((line) => line.bad).length;
  if (count === 0) return '';
  return ` Not to be used: ${formatCount(count, 'line')} from bad captures, in short dashes and marked ${BAD_MARK}.`;
}

/** Name of a run beside its line: its drive above the quietest, else its label. */
export function nameOfRun(curve: Curve, view: SettingView): string {
  if (curve.about.driveDb === undefined) return plainName(curve.label);
  return `${driveText(curve.about.driveDb - view.lowestDriveDb)} dB`;
}

/** Third-octave frequencies that figures are tabulated at: values are read off the drawn line. */
export function valueAt(line: DrawnLine, hz: number): number | null {
  const { points } = line;
  if (points.length === 0 || hz < points[0].hz * 0.999 || hz > points[points.length - 1].hz * 1.001) return null;
  let nearest = points[0];
  for (const point of points)
    if (Math.abs(Math.log(point.hz / hz)) < Math.abs(Math.log(nearest.hz / hz))) nearest = point;
  return nearest.value;
}
