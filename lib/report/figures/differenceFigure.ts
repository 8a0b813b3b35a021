import { trustOfDifference } from '../../analysis/conclusions/trustOfDifference';
import type { Curve } from '../../model/curve';
import type { SettingDifference } from '../../model/findings';
import { nominalHz, thirdOctaveCentres } from '../../model/octaves';
import { centredMeans } from '../../response/centredMeans';
import { differenceChart } from '../charts/differenceChart';
import { drawCurve } from '../charts/drawCurve';
import { levelRange } from '../charts/levelRange';
import { valueAt } from '../charts/valueAt';
import { plainName } from '../text';
import { DRAWN_FRACTION, type DrawnSession } from './drawnSession';
import type { Figure } from './figure';

/** What a switch changes over frequency. */
export function differenceFigure(
  drawn: DrawnSession,
  difference: SettingDifference,
  index: number,
): Figure | undefined {
  const { responses, findings } = drawn.session;
  const { difference: words } = drawn.session.words.figure;
  const [a, b] = [difference.a, difference.b].map(plainName);
  // Values are read over wider bands than a response is drawn in: smoothed alike, they lie on the line.
  // A difference is no level: a mean of its powers would lie above it where it is steep.
  const { frequencyHz, levelDb, steps } = difference.curve;
  const fraction = DRAWN_FRACTION / 2;
  const smoothed = {
    ...difference.curve,
    levelDb: [...centredMeans(frequencyHz, levelDb, fraction)],
    steps: [...steps, { did: 'smooth', with: { fraction } }],
  } as Curve;
  const line = drawCurve(smoothed, '', {
    rangeHz: drawn.rangeHz,
    fraction,
    trusted: trustOfDifference(difference, responses, findings.ladder ?? []),
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

/** Says at which drives, or that it was at equal level. */
function captionOf(drawn: DrawnSession, { runs, matchedBy }: SettingDifference, a: string, b: string): string {
  const { difference: words, run } = drawn.session.words.figure;
  if (matchedBy === 'level') return words.captionLevel(a, b);
  const [atA, atB] = [runs.a.driveDb, runs.b.driveDb];
  if (atA === null || atB === null) return words.caption(a, b, null);
  return atA === atB ? words.caption(a, b, run(atA)) : words.captionDrives(a, b, run(atA), run(atB));
}
