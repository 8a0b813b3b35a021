import type { SettingDifference } from '../../model/findings';
import { nominalHz, thirdOctaveCentres } from '../../model/octaves';
import { differenceChart } from '../charts/differenceChart';
import { drawCurve } from '../charts/drawCurve';
import { levelRange } from '../charts/levelRange';
import type { SettingView } from '../session';
import { plainName } from '../text';
import { trustOf } from '../trust';
import { DRAWN_FRACTION, type DrawnSession, valueAt } from './drawnSession';
import type { Figure } from './figure';

/** The runs that were compared, where the finding names them. */
type Runs = Record<'a' | 'b', { curve: string; driveDb: number | null }>;

/** What a switch changes over frequency. */
export function differenceFigure(
  drawn: DrawnSession,
  difference: SettingDifference,
  index: number,
): Figure | undefined {
  const { difference: words } = drawn.session.words.figure;
  const [a, b] = [difference.a, difference.b].map(plainName);
  // Values are read over wider bands than a response is drawn in: smoothed alike, they lie on the line.
  const line = drawCurve(difference.curve, '', {
    rangeHz: drawn.rangeHz,
    fraction: DRAWN_FRACTION / 2,
    trusted: trustOfDifference(difference, drawn),
  });
  if (line.points.length === 0) return undefined;
  const trusted = line.points.filter((point) => point.trusted);
  const shown = (trusted.length > 0 ? trusted : line.points).map((point) => point.value);
  return {
    id: `fig-difference-${index}`,
    kind: 'difference',
    title: words.title(a, b),
    caption: captionOf(drawn, difference, a, b),
    text: words.text([
      words.kind[difference.kind] ?? words.kind.unknown,
      ...(difference.hingeHz === null ? [] : [words.hinge(difference.hingeHz)]),
      ...(difference.kind === 'level' && difference.levelDb !== null ? [words.level(difference.levelDb)] : []),
      ...difference.at.map((one) => words.at(one.differenceDb, one.frequencyHz, one.trusted)),
    ]),
    build: differenceChart({
      line,
      difference,
      rangeHz: drawn.rangeHz,
      level: levelRange([...shown, 0, ...difference.at.filter((one) => one.trusted).map((one) => one.differenceDb)], {
        leastDb: 8,
        headDb: 1,
        stepsDb: [1, 2, 5, 10],
      }),
    }),
    table: {
      caption: words.tableCaption(a, b),
      head: words.head,
      rows: thirdOctaveCentres(...drawn.rangeHz).map((hz) => [String(nominalHz(hz)), valueAt(line, hz)]),
    },
  };
}

function runsOf(difference: SettingDifference): Runs | undefined {
  return (difference as { runs?: Runs }).runs;
}

/** Says at which drives, or that it was at equal level. */
function captionOf(drawn: DrawnSession, difference: SettingDifference, a: string, b: string): string {
  const { difference: words, run } = drawn.session.words.figure;
  if ((difference as { matchedBy?: string }).matchedBy === 'level') return words.captionLevel(a, b);
  const runs = runsOf(difference);
  const drives = runs ? [runs.a.driveDb, runs.b.driveDb] : [null, null];
  if (drives[0] === null || drives[1] === null) return words.caption(a, b, null);
  return drives[0] === drives[1]
    ? words.caption(a, b, run(drives[0]))
    : words.captionDrives(a, b, run(drives[0]), run(drives[1]));
}

/**
 * Trusted where the runs of both settings are; where those are not known, above the highest tabulated frequency
 * that was not trusted.
 */
function trustOfDifference(difference: SettingDifference, drawn: DrawnSession): (hz: number) => boolean {
  const { curve, at, a, b } = difference;
  const runs = runsOf(difference);
  const { settings } = drawn.session;
  const views = settings.filter(({ setting }) => setting === plainName(a) || setting === plainName(b));
  const compared = (view: SettingView) =>
    runs ? view.curves.filter(({ id }) => id === runs.a.curve || id === runs.b.curve) : [view.judged ?? []].flat();
  const sides = views.flatMap((view) => compared(view).map((one) => trustOf(one, view.ladder)));
  const own = curve.noiseDb ? [trustOf(curve)] : [];
  const tests = [...own, ...sides, aboveDoubt(at)];
  return (hz) => tests.every((test) => test(hz));
}

function aboveDoubt(at: SettingDifference['at']): (hz: number) => boolean {
  const doubtful = at.filter((one) => !one.trusted).map((one) => one.frequencyHz);
  const highest = Math.max(0, ...doubtful);
  const next = Math.min(...at.filter((one) => one.trusted && one.frequencyHz > highest).map((one) => one.frequencyHz));
  const edge = highest > 0 && Number.isFinite(next) ? Math.sqrt(highest * next) : highest;
  return (hz) => hz > edge;
}
