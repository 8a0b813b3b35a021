import type { Detail, Ladder, Statement } from '../../model/findings';
import { makeStatement } from '../../words/makeStatement';
import { asNumbered } from '../../words/numbered';
import { plainName } from '../../words/plainName';
import { toHundredth } from './rounded';
import type { Session, Subject } from './topic';

/** More captures than these are counted, not named. */
const MOST_NAMED = 4;

/** How much of what was measured can be trusted: steps of drive, levels, captures. */
export function trustDetails(session: Session): Detail[] {
  const found = [...session.subjects.flatMap(ladderTrust), ...captureDetails(session)];
  return found.map((one) => ({ topic: 'trust', ...one }));
}

function ladderTrust({ group: { ladder, name }, index }: Subject): Statement[] {
  if (!ladder || ladder.rungs.length < 2) return [];
  const [trusted, of] = trustedLevels(ladder);
  const levels = { name, trusted, of, snrFrom: ladder.snrFrom };
  return [
    ...stepDetails(ladder, name, `fig-ladder-${index}`),
    ...(of > 0 ? [makeStatement('levels-trusted', levels, `fig-map-${index}`)] : []),
  ];
}

function trustedLevels({ trusted }: Ladder): [trusted: number, of: number] {
  const cells = trusted.flat();
  return [cells.filter(Boolean).length, cells.length];
}

/** Nothing where the step was not measured: that it could not be is a caveat of the ladder, as is one that differs. */
function stepDetails({ step, caveats }: Ladder, name: string, figure: string): Statement[] {
  const { measuredDb, uncertaintyDb, commandedDb, differs } = step;
  if (measuredDb === null || uncertaintyDb === null || differs === null) return [];
  if (differs && caveats.some(({ code }) => code === 'ladder-step-differs')) return [];
  const values = {
    name,
    measuredDb: toHundredth(measuredDb),
    uncertaintyDb: toHundredth(uncertaintyDb),
    commandedDb: toHundredth(commandedDb),
  };
  return [makeStatement(differs ? 'steps-differ' : 'steps-as-commanded', values, figure)];
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
