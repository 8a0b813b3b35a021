import { isUnusable } from '../../model/caveat';
import type { Interval } from '../../model/curve';
import type { BandFit, Findings, Statement } from '../../model/findings';
import { isInside } from '../../response/intervals';
import { makeStatement } from '../../words/makeStatement';
import { asNumbered } from '../../words/numbered';
import { doubtOf } from './doubtOf';
import { firstShort } from './firstShort';
import { quotedFit } from './quotedFit';
import { toHz, toTenth } from './rounded';
import type { Candidate, Session, Subject } from './topic';

/** Where a response has fallen by this much it is quoted first, dB (common practice). */
const QUOTED_DOWN_DB = [6, 10, 3];

interface Quoted {
  subject: Subject;
  fit: BandFit;
}

/** How wide a range each setting holds inside the window, and how deep it reaches. */
export function rangeHeadlines({ subjects, findings }: Session): Candidate[] {
  const quoted = subjects.flatMap((subject): Quoted[] => {
    const fit = quotedFit(subject);
    return fit && !isUnusable(fit) ? [{ subject, fit }] : [];
  });
  return [...rangeOf(quoted, findings), ...depthOf(quoted)];
}

/** What was left out of the range: dips of the room, where all masks are known to be such, or whatever was masked. */
function leftOut(quoted: Quoted[], { roomFeatures = [] }: Findings): 'nothing' | 'room' | 'masked' {
  const masks = quoted.flatMap(({ fit }) => fit.masksHz);
  const ofRoom = roomFeatures.filter(({ belongsTo, cause }) => belongsTo === 'room' || cause.type === 'listed');
  const isOfRoom = (mask: Interval): boolean => ofRoom.some(({ frequencyHz }) => isInside(frequencyHz, [mask]));
  if (masks.length === 0) return 'nothing';
  return masks.every(isOfRoom) ? 'room' : 'masked';
}

function rangeOf(quoted: Quoted[], findings: Findings): Candidate[] {
  if (quoted.length === 0) return [];
  const { heightDb } = quoted[0].fit;
  const alike = quoted.filter(({ fit }) => fit.heightDb === heightDb);
  const statements = shortening(alike, (told, more) =>
    makeStatement(
      'range-in-window',
      {
        heightDb: toTenth(heightDb),
        leftOut: leftOut(alike, findings),
        more,
        ...asNumbered({
          name: told.map(({ subject }) => subject.short),
          lowHz: told.map(({ fit }) => toHz(fit.lowHz)),
          highHz: told.map(({ fit }) => toHz(fit.highHz)),
        }),
      },
      'fig-response',
    ),
  );
  return [{ rank: 1, topic: 'range', headline: { ...firstShort(statements), ...doubtIn(alike) } }];
}

function depthOf(quoted: Quoted[]): Candidate[] {
  const at = ({ fit }: Quoted, downDb: number): number | null =>
    fit.points.find((point) => point.downDb === downDb)?.lowHz ?? null;
  const reaching = (db: number): Quoted[] => quoted.filter((one) => at(one, db) !== null);
  const most = Math.max(0, ...QUOTED_DOWN_DB.map((db) => reaching(db).length));
  if (most === 0) return [];
  const downDb = QUOTED_DOWN_DB.find((db) => reaching(db).length === most) as number;
  const alike = reaching(downDb);
  const furtherHz = alike.length === 1 && downDb === 6 ? at(alike[0], 10) : null;
  const statements = shortening(alike, (told, more) =>
    makeStatement(
      'depth-points',
      {
        downDb,
        more,
        ...(furtherHz !== null && { furtherDb: 10, furtherHz: toHz(furtherHz) }),
        ...asNumbered({
          name: told.map(({ subject }) => subject.short),
          lowHz: told.map((one) => toHz(at(one, downDb) as number)),
        }),
      },
      'fig-response',
    ),
  );
  return [{ rank: 2, topic: 'range', headline: { ...firstShort(statements), ...doubtIn(alike) } }];
}

/** The same for fewer and fewer settings, from three down. */
function shortening(quoted: Quoted[], make: (told: Quoted[], more: number) => Statement): Statement[] {
  return [3, 2, 1]
    .filter((count) => count <= quoted.length || count === 1)
    .map((count) => make(quoted.slice(0, count), quoted.length - count));
}

function doubtIn(quoted: Quoted[]): { doubt?: string } {
  const doubt = doubtOf(quoted.map(({ fit }) => fit));
  return doubt === undefined ? {} : { doubt };
}
