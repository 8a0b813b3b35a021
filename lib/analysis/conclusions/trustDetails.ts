import type { Detail, Ladder, Statement } from '../../model/findings';
import { makeStatement } from '../../words/makeStatement';
import { asNumbered } from '../../words/numbered';
import { plainName } from '../../words/plainName';
import { toHundredth } from './rounded';
import type { Session } from './topic';

/** More captures than these are counted, not named. */
const MOST_NAMED = 4;

/** How much of what was measured can be trusted: steps of drive, levels, captures. */
export function trustDetails(session: Session): Detail[] {
  const ladders = session.subjects.flatMap(({ group: { ladder, name }, index }) =>
    ladder && ladder.rungs.length > 1 ? [{ ladder, name, index }] : [],
  );
  const steps = ladders.flatMap(({ ladder, name, index }) => stepDetails(ladder, name, `fig-ladder-${index}`));
  const found = [...steps, ...levelDetails(ladders), ...captureDetails(session)];
  return found.map((one) => ({ topic: 'trust', ...one }));
}

/** One count for all settings whose noise is known in the same way. */
function levelDetails(ladders: { ladder: Ladder; name: string; index: number }[]): Statement[] {
  const ways = [...new Set(ladders.map(({ ladder }) => ladder.snrFrom))];
  return ways.flatMap((snrFrom) => {
    const alike = ladders.filter(({ ladder }) => ladder.snrFrom === snrFrom);
    const cells = alike.flatMap(({ ladder }) => ladder.trusted.flat());
    if (cells.length === 0) return [];
    const values = { trusted: cells.filter(Boolean).length, of: cells.length, snrFrom };
    const name = ways.length > 1 && alike.length === 1 ? alike[0].name : '';
    return [makeStatement('levels-trusted', { ...values, name }, `fig-map-${alike[0].index}`)];
  });
}

/** Nothing where the step was not measured: that it could not be is a caveat of the ladder, as is one that differs. */
function stepDetails({ step, stepUsed, caveats }: Ladder, name: string, figure: string): Statement[] {
  const { measuredDb, uncertaintyDb, commandedDb, differs } = step;
  if (measuredDb === null || uncertaintyDb === null || differs === null) return [];
  if (differs && caveats.some(({ code }) => code === 'ladder-step-differs')) return [];
  const values = {
    name,
    measuredDb: toHundredth(measuredDb),
    uncertaintyDb: toHundredth(uncertaintyDb),
    commandedDb: toHundredth(commandedDb),
  };
  if (differs) return [makeStatement('steps-differ', { ...values, used: stepUsed }, figure)];
  return [makeStatement('steps-as-commanded', values, figure)];
}

function captureDetails({ captures: { judged, doubtful, bad } }: Session): Statement[] {
  const named = (labels: string[]): string[] => labels.slice(0, MOST_NAMED).map(plainName);
  const counted = {
    good: Math.max(0, judged - doubtful.length - bad.length),
    judged,
    more: Math.max(0, doubtful.length - MOST_NAMED),
    ...asNumbered({ doubtful: named(doubtful) }),
  };
  return [
    ...(bad.length > 0
      ? [
          makeStatement(
            'captures-bad-named',
            { more: Math.max(0, bad.length - MOST_NAMED), ...asNumbered({ bad: named(bad) }) },
            'captures',
          ),
        ]
      : []),
    ...(judged > 0 ? [makeStatement('captures-counted', counted, 'captures')] : []),
  ];
}
