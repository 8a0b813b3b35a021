import type { Detail, Headline } from '../../model/findings';
import { makeStatement } from '../../words/makeStatement';
import { levelHeadlines } from './levelHeadlines';
import { rangeHeadlines } from './rangeHeadlines';
import { roomHeadlines } from './roomHeadlines';
import { soundHeadlines } from './soundHeadlines';
import { switchHeadlines } from './switchHeadlines';
import type { Candidate, Session } from './topic';
import { warningHeadlines } from './warningHeadlines';

/** A reader takes home no more than these. */
const MOST = 7;
/** With fewer than these, what was not measured is worth a headline. */
const FEW = 3;

/** Take the best of all headlines. @returns those, best first, and as details the others that no detail covers. */
export function chooseHeadlines(session: Session): { headlines: Headline[]; left: Detail[] } {
  const facts = [rangeHeadlines, levelHeadlines, switchHeadlines, soundHeadlines, roomHeadlines].flatMap((write) =>
    write(session),
  );
  const warnings = warningHeadlines(session);
  const all = [...warnings, ...facts, ...missing(session, facts, warnings)].sort((a, b) => a.rank - b.rank);
  const left = all.slice(MOST).filter(({ isCovered }) => !isCovered);
  return {
    headlines: all.slice(0, MOST).map(({ headline: { warning: _warning, ...headline } }) => headline),
    left: left.map(({ topic, headline: { doubt: _doubt, ...headline } }) => ({ topic, ...headline })),
  };
}

/** What a session lacks, where it tells little. */
function missing({ findings, curves, recordings }: Session, facts: Candidate[], warnings: Candidate[]): Candidate[] {
  const { notes: _notes, conclusions: _conclusions, ...found } = findings;
  const hasFindings = Object.values(found).some((one) => (Array.isArray(one) ? one.length > 0 : one !== undefined));
  if (facts.length === 0 && !hasFindings) {
    return [{ rank: 8, topic: 'range', headline: makeStatement('nothing-analysed', { curves, recordings }, 'method') }];
  }
  if (facts.length === 0 && warnings.length > 0) {
    return [{ rank: 8, topic: 'range', headline: makeStatement('nothing-usable', {}, 'method') }];
  }
  const isLimitKnown = facts.some(({ topic }) => topic === 'limits');
  if (facts.length >= FEW || isLimitKnown) return [];
  return [
    { rank: 8, topic: 'limits', headline: makeStatement('limits-unknown', { name: '', why: 'no ladder' }, 'method') },
  ];
}
