import { isOfRoom } from '../../analysis/conclusions/isOfRoom';
import { trustOf } from '../../analysis/conclusions/trustOf';
import { isDoubted } from '../../model/caveat';
import type { Interval } from '../../model/curve';
import { isInside } from '../../response/intervals';
import type { Dip } from '../charts/dipMarks';
import { drawCurve } from '../charts/drawCurve';
import type { DrawnLine } from '../charts/drawnLine';
import { frequencyRange } from '../charts/frequencyRange';
import type { DrivenRegion } from '../charts/ladderChart';
import { type LevelRange, levelRange } from '../charts/levelRange';
import { BAD_MARK } from '../charts/rungAxis';
import { nameOfRun, type Session, type SettingView } from '../session';

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
        drawCurve(curve, nameOfRun(curve, session.words), {
          rangeHz,
          fraction: DRAWN_FRACTION,
          trusted: trustOf(curve, view.ladder),
        }),
        view.bad.curves.has(curve.id),
      ),
    ),
  }));
  const levels = settings.flatMap(({ lines }) => trustedLevels(lines));
  const wantedDb = session.settings.flatMap(windowLevels);
  return { session, settings, rangeHz, level: wholeRange(levels, wantedDb) };
}

/** Levels of lines where they can be trusted. */
export function trustedLevels(lines: DrawnLine[]): number[] {
  return lines.flatMap(({ points }) => points.filter(({ trusted }) => trusted).map(({ value }) => value));
}

/** Levels that must be seen of a window and of the points below it. */
export function windowLevels({ fit }: SettingView): number[] {
  return fit ? [fit.floorDb - 3, fit.referenceDb - 12] : [];
}

/** The window and the points below it must be seen whole, however tall the ladder is. */
export function wholeRange(levels: number[], wantedDb: number[], stepsDb = [5, 10, 20]): LevelRange {
  const spanDb = levels.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY) + 2 - Math.min(...wantedDb);
  const mostDb = Number.isFinite(spanDb) ? Math.max(60, spanDb) : 60;
  return levelRange([...levels, ...wantedDb], { mostDb, stepsDb });
}

/** A line with the mark of a bad capture, where it comes from one. */
export function marked(line: DrawnLine, bad: boolean): DrawnLine {
  return bad ? { ...line, label: `${line.label} ${BAD_MARK}`.trim(), bad } : line;
}

/** What a window left out, each stretch named by the room's dips in it; without a window all that may be left out. */
export function dipsOf({ findings }: Session, views: SettingView[]): Dip[] {
  const dips = (findings.roomFeatures ?? []).filter((feature) => feature.kind === 'dip' && isOfRoom(feature));
  const fits = views.flatMap(({ fit }) => fit ?? []);
  if (fits.length === 0) return dips;
  const masks = new Map(fits.flatMap(({ masksHz }) => masksHz.map((mask) => [mask.join(), mask])));
  return [...masks.values()].flatMap((maskHz): Dip[] => {
    const inside = dips.filter(({ frequencyHz }) => isInside(frequencyHz, [maskHz]));
    const middle = { frequencyHz: Math.sqrt(maskHz[0] * maskHz[1]), prominenceDb: 0 };
    return (inside.length > 0 ? inside : [middle]).map(({ frequencyHz, prominenceDb }) => ({
      ...{ frequencyHz, prominenceDb, maskHz },
    }));
  });
}

/** Where a setting is limited, with drives as the runs name them. */
export function drivenRegions({ ladder }: SettingView): DrivenRegion[] {
  const lowestDb = ladder?.rungs[0]?.driveDb ?? 0;
  return (ladder?.regions ?? []).map(({ lowHz, highHz, kind, onsetDriveDb, onsetToDriveDb }) => ({
    lowHz,
    highHz,
    kind,
    fromDb: lowestDb + onsetDriveDb,
    toDb: lowestDb + Math.max(onsetDriveDb, onsetToDriveDb),
  }));
}
