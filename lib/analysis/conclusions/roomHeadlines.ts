import { isUnusable } from '../../model/caveat';
import { isInside } from '../../response/intervals';
import { makeStatement } from '../../words/makeStatement';
import { asNumbered } from '../../words/numbered';
import { doubtOf } from './doubtOf';
import { quotedFit } from './quotedFit';
import { toHz } from './rounded';
import type { Candidate, Session } from './topic';

/** More dips than these are counted, the deepest named. */
const MOST_NAMED = 5;

/** Which dips belong to the room, and whether they were left out. */
export function roomHeadlines({ findings, subjects }: Session): Candidate[] {
  const dips = (findings.roomFeatures ?? []).filter(
    (one) => one.kind === 'dip' && one.belongsTo === 'room' && !isUnusable(one),
  );
  if (dips.length === 0) return [];
  const masksHz = subjects.map((subject) => quotedFit(subject.group, subject.conclusion.shown)?.masksHz ?? []);
  const leftOut = dips.every(({ frequencyHz }) => masksHz.some((masks) => isInside(frequencyHz, masks)));
  const named = [...dips]
    .sort((a, b) => b.prominenceDb - a.prominenceDb)
    .slice(0, MOST_NAMED)
    .sort((a, b) => a.frequencyHz - b.frequencyHz);
  const statement = makeStatement(
    'room-dips',
    {
      count: dips.length,
      leftOut,
      ...(dips.length > named.length && { more: dips.length - named.length }),
      ...asNumbered({ hz: named.map(({ frequencyHz }) => toHz(frequencyHz)) }),
    },
    'fig-room',
  );
  const doubt = doubtOf(named);
  return [{ rank: 7, topic: 'room', headline: { ...statement, ...(doubt !== undefined && { doubt }) } }];
}
