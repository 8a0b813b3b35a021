import { isUnusable } from '../../model/caveat';
import type { Interval } from '../../model/curve';
import type { Ladder, MaximumOutput } from '../../model/findings';
import { bandAround, nominalHz } from '../../model/octaves';
import { makeStatement } from '../../words/makeStatement';
import { asNumbered } from '../../words/numbered';
import { doubtOf } from './doubtOf';
import { firstShort } from './firstShort';
import { commonLossOf, lastToldRung, toldRungs, unknownBecause } from './limiting';
import { outputLevels } from './outputLevels';
import { toHz, toTenth } from './rounded';
import type { Candidate, Session, Subject } from './topic';

/** Frequencies that loudness is quoted at, Hz (common practice). */
const QUOTED_HZ = [20, 31.5, 40];

/** A caveat of less than half of the limited bands leaves what is said of them. */
const HALF = 0.5;

/** Where each setting limits, and how loud the loudest goes. */
export function levelHeadlines({ subjects }: Session): Candidate[] {
  const known = subjects.flatMap((subject) =>
    subject.group.ladder ? [{ subject, ladder: subject.group.ladder }] : [],
  );
  const are = (...extents: (Ladder['extent'] | null)[]): Known[] =>
    known.filter(({ subject }) => extents.includes(subject.conclusion.extent));
  // what all bands lose together is told instead
  const free = are('none').filter(({ ladder }) => !commonLossOf(ladder));
  const limits = [
    ...are('bottom', 'parts', 'everywhere').map(limitsOf),
    ...(free.length > 0 ? [notDriven(free)] : []),
    ...are('unknown').map(limitsOf),
  ];
  const loudest = loudestOf(known);
  return [
    ...limits.map((one, k) => ({ ...one, rank: k === 0 ? 3 : 7 + k })),
    ...known.flatMap(commonLoss),
    ...(loudest ? [loudest] : []),
    ...subjects.flatMap((subject) => burstOf(subject, loudest !== undefined)),
  ];
}

interface Known {
  subject: Subject;
  ladder: Ladder;
}

/** A limit that all bands reach is no loss of this kind. */
function commonLoss({ subject: { short: name, conclusion, index }, ladder }: Known): Candidate[] {
  const loss = commonLossOf(ladder);
  if (!loss || isUnusable(ladder) || conclusion.extent === 'everywhere') return [];
  const values = { name, byDb: toTenth(loss.byDb), driveDb: toTenth(loss.driveDb) };
  return [{ rank: 3.5, topic: 'limits', headline: makeStatement('common-loss', values, `fig-ladder-${index}`) }];
}

function notDriven(free: Known[]): Candidate {
  const driveDb = Math.min(...free.map(({ ladder }) => ladder.rungs[lastToldRung(ladder)].driveDb));
  const fromHz = Math.max(0, ...free.map(({ subject }) => subject.conclusion.freeFromHz ?? 0)) || null;
  const statement = makeStatement(
    'limits-none',
    { driveDb: toTenth(driveDb), fromHz, ...asNumbered({ name: free.map(({ subject }) => subject.short) }) },
    `fig-ladder-${free[0].subject.index}`,
  );
  const doubt = doubtOf(free.map(({ ladder }) => ladder));
  return { rank: 3, topic: 'limits', headline: { ...statement, ...(doubt !== undefined && { doubt }) } };
}

function limitsOf({ subject, ladder }: Known): Candidate {
  const { short: name, conclusion, index } = subject;
  const figure = `fig-ladder-${index}`;
  const { extent } = conclusion;
  if (extent === null || extent === 'none' || extent === 'unknown') {
    const headline = makeStatement('limits-unknown', { name, why: unknownBecause(ladder) }, figure);
    return { rank: 3, topic: 'limits', headline };
  }
  const all = ladder.regions;
  const firstDb = Math.min(...all.map(({ onsetDriveDb }) => onsetDriveDb));
  const first = all.filter(({ onsetDriveDb }) => toTenth(onsetDriveDb) === toTenth(firstDb));
  // more than two do not fit into a headline: then where they lie together, and which begin first
  const regions = all.length <= 2 ? all : first.length <= 2 ? first : [];
  const lowestDb = ladder.rungs[0].driveDb;
  const lastOnly = isShownByLastOnly(ladder, firstDb);
  const one = regions.length === 1 ? regions[0] : null;
  const values = {
    name,
    // one step cannot tell a wall from a knee
    sharp: one && all.length === 1 && one.kind === 'limiter' && !lastOnly,
    lastOnly,
    nearDb: one && all.length === 1 && ladder.scale === 'spl' && !lastOnly ? toTenth(one.ceilingDb) : null,
    spanLowHz: all.length > 2 ? toHz(Math.min(...all.map(({ lowHz }) => lowHz))) : null,
    spanHighHz: all.length > 2 ? toHz(Math.max(...all.map(({ highHz }) => highHz))) : null,
    firstDriveDb: toTenth(lowestDb + firstDb),
    ...asNumbered({
      lowHz: regions.map(({ lowHz }) => toHz(lowHz)),
      highHz: regions.map(({ highHz }) => toHz(highHz)),
      fromDriveDb: regions.map(({ onsetDriveDb }) => toTenth(lowestDb + onsetDriveDb)),
      toDriveDb: regions.map(({ onsetToDriveDb }) => toTenth(lowestDb + onsetToDriveDb)),
    }),
  };
  const doubt = doubtOf(
    [ladder],
    (regions.length > 0 ? regions : all).map(({ lowHz, highHz }): Interval => [lowHz, highHz]),
    HALF,
  );
  const statement = makeStatement(`limits-${extent}`, values, figure);
  return {
    rank: 3,
    topic: 'limits',
    headline: { ...statement, ...(doubt !== undefined && { doubt }) },
    isCovered: ladder.regions.length > 1,
  };
}

/** Whether every limit sets in above the second loudest run that counts: what a single run shows, no other one bears out. */
function isShownByLastOnly(ladder: Ladder, firstOnsetDb: number): boolean {
  const below = toldRungs(ladder).at(-2);
  return below !== undefined && firstOnsetDb > ladder.rungs[below].driveDb - ladder.rungs[0].driveDb;
}

/** Ceilings of the setting that goes the loudest at the lowest frequency quoted. */
function loudestOf(known: Known[]): Candidate | undefined {
  const quoted = known
    .filter(({ ladder }) => !isUnusable(ladder))
    .map(({ subject, ladder }) => ({ subject, ladder, levels: ceilingsOf(ladder) }))
    .filter(({ levels }) => levels.length > 0);
  if (quoted.length === 0) return undefined;
  const best = quoted.reduce((a, b) => {
    const [one, other] = [a.levels[0], b.levels[0]];
    return other.hz < one.hz || (other.hz === one.hz && other.levelDb > one.levelDb) ? b : a;
  });
  const make = (levels: typeof best.levels) =>
    makeStatement(
      'loudest',
      {
        name: best.subject.short,
        relative: best.ladder.scale !== 'spl',
        ...asNumbered({
          hz: levels.map(({ hz }) => hz),
          levelDb: levels.map(({ levelDb }) => toTenth(levelDb)),
          atLeast: levels.map(({ atLeast }) => atLeast),
        }),
      },
      'fig-ceilings',
    );
  const statement = firstShort([3, 2, 1].map((count) => make(best.levels.slice(0, count))));
  const doubt = doubtOf(
    [best.ladder],
    best.levels.map(({ hz }) => bandAround(hz, 3)),
  );
  return { rank: 4, topic: 'limits', headline: { ...statement, ...(doubt !== undefined && { doubt }) } };
}

function ceilingsOf({ bandsHz, ceiling }: Ladder): { hz: number; levelDb: number; atLeast: boolean }[] {
  return QUOTED_HZ.flatMap((hz) => {
    const band = bandsHz.findIndex((centre) => nominalHz(centre) === hz);
    const levelDb = band < 0 ? null : ceiling.levelDb[band];
    return levelDb === null || levelDb === undefined ? [] : [{ hz, levelDb, atLeast: !ceiling.reached[band] }];
  });
}

function burstOf({ group, short: name, index }: Subject, isSecond: boolean): Candidate[] {
  const output: MaximumOutput | undefined = group.maximumOutput;
  if (!output || isUnusable(output)) return [];
  const told = outputLevels(output);
  const first = QUOTED_HZ.map((hz) => told.levels.find((one) => one.hz === hz && one.trusted)).find((one) => one);
  if (!first) return [];
  const { hz, levelDb, atLeast } = first;
  const values = {
    name,
    hz,
    levelDb: toTenth(levelDb),
    atLeast,
    relative: output.scale !== 'spl',
    fromM: told.fromM,
    toM: told.toM,
  };
  const doubt = doubtOf([output], [bandAround(hz, 3)]);
  return [
    {
      rank: isSecond ? 8.5 : 4.5,
      topic: 'output',
      headline: {
        ...makeStatement('loudest-burst', values, `fig-output-${index}`),
        ...(doubt !== undefined && { doubt }),
      },
      isCovered: true,
    },
  ];
}
