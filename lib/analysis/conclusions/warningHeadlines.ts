import { makeStatement } from '../../words/makeStatement';
import type { Candidate, Session } from './topic';

/** What puts all else in doubt: bad captures, and runs that were not measured in the same way. */
export function warningHeadlines({ captures, procedures }: Session): Candidate[] {
  const bad = captures.bad.length;
  const warnings: Candidate[] = [];
  if (bad > 0) {
    const headline = makeStatement('bad-captures', { bad, judged: captures.judged }, 'captures');
    warnings.push({ rank: 0, topic: 'trust', headline: { ...headline, warning: true } });
  }
  if (procedures.length > 1) {
    const headline = makeStatement('mixed-procedures', { procedures: procedures.length }, 'method');
    warnings.push({ rank: 0.5, topic: 'trust', headline: { ...headline, warning: true } });
  }
  return warnings;
}
