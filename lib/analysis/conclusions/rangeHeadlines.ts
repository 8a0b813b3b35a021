import { isUnusable } from '../../model/caveat';
import type { Interval } from '../../model/curve';
import type { BandFit, Findings, Statement } from '../../model/findings';
import { isInside } from '../../response/intervals';
import { makeStatement } from '../../words/makeStatement';
import { asNumbered } from '../../words/numbered';
import { doubtOf } from './doubtOf';
import { firstShort } from './firstShort';
import { isOfRoom } from './isOfRoom';
import { passedDips } from './passedDips';
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
  const all = subjects.flatMap((subject): Quoted[] => {
    const fit = quotedFit(subject.group, subject.conclusion.shown);
    return fit ? [{ subject, fit }] : [];
  });
  const quoted = all.filter(({ fit }) => !isUnusable(fit));
  const hidden = all.filter(({ fit }) => fit.caveats.some(({ code }) => code === 'fit-in-noise'));
  return [
    ...rangeOf(quoted, findings),
    ...depthOf(quoted),
    ...endingDips(quoted, findings),
    ...(hidden.length > 0 ? [hiddenOf(hidden)] : []),
  ];
}

function hiddenOf(hidden: Quoted[]): Candidate {
  const values = asNumbered({ name: hidden.map(({ subject }) => subject.short) });
  return { rank: 1.5, topic: 'range', headline: makeStatement('range-in-noise', values, 'fig-response') };
}

/** A dip reaches a little beyond its half depth, octaves. A choice, no source. */
const BESIDE_DIP_OCTAVES = 1 / 24;
/** What a number at one frequency rests on, to either side, octaves: the usual smoothing of band fits. */
const BESIDE_OCTAVES = 1 / 12;

/** Dips that nobody has explained, and that are why the range of a setting ends where it does. */
function endingDips(quoted: Quoted[], { roomFeatures = [] }: Findings): Candidate[] {
  const beside = 2 ** BESIDE_DIP_OCTAVES;
  const ending = roomFeatures.filter(
    ({ kind, belongsTo, cause, frequencyHz, maskHz: [low, high] }) =>
      kind === 'dip' &&
      belongsTo === 'unknown' &&
      cause.type !== 'listed' &&
      quoted.some(({ fit }) => {
        const [edge, isOutside] = frequencyHz < fit.lowHz ? [fit.lowHz, true] : [fit.highHz, frequencyHz > fit.highHz];
        return isOutside && !isInside(frequencyHz, fit.masksHz) && edge > low / beside && edge < high * beside;
      }),
  );
  if (ending.length === 0) return [];
  const hz = ending.map(({ frequencyHz }) => toHz(frequencyHz)).sort((a, b) => a - b);
  const statement = makeStatement('range-ends-at-dips', asNumbered({ hz: [...new Set(hz)] }), 'fig-room');
  return [{ rank: 2.5, topic: 'range', headline: statement }];
}

/** What was left out of the range: dips of the room, where all masks are known to be such, or whatever was masked. */
function leftOut(quoted: Quoted[], { roomFeatures = [] }: Findings): 'nothing' | 'room' | 'masked' {
  const masks = quoted.flatMap(({ fit }) => fit.masksHz);
  const ofRoom = roomFeatures.filter(isOfRoom);
  const isRooms = (mask: Interval): boolean => ofRoom.some(({ frequencyHz }) => isInside(frequencyHz, [mask]));
  if (masks.length === 0) return 'nothing';
  return masks.every(isRooms) ? 'room' : 'masked';
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
  return [
    {
      rank: 1,
      topic: 'range',
      headline: { ...firstShort(statements), ...doubtIn(alike, ({ lowHz, highHz }) => [lowHz, highHz]) },
    },
  ];
}

function depthOf(quoted: Quoted[]): Candidate[] {
  const at = ({ fit }: Quoted, downDb: number): number | null =>
    fit.points.find((point) => point.downDb === downDb)?.lowHz ?? null;
  const reaching = (db: number): Quoted[] => quoted.filter((one) => at(one, db) !== null);
  const most = Math.max(0, ...QUOTED_DOWN_DB.map((db) => reaching(db).length));
  if (most === 0) return [];
  const downDb = QUOTED_DOWN_DB.find((db) => reaching(db).length === most) as number;
  const alike = reaching(downDb);
  const tenHz = alike.length === 1 && downDb === 6 ? at(alike[0], 10) : null;
  const isInNoise = (hz: number): boolean =>
    alike[0].fit.caveats.some(
      ({ code, where }) =>
        code === 'near-noise' &&
        where?.rangesHz?.some(([low, high]) => hz > low * 2 ** -BESIDE_OCTAVES && hz < high * 2 ** BESIDE_OCTAVES),
    );
  const furtherHz = tenHz !== null && !isInNoise(tenHz) ? tenHz : null;
  const doubt = doubtIn(alike, ({ points }) => [points.find((point) => point.downDb === downDb)?.lowHz ?? null]);
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
          dipHz: passedDips(told.flatMap(({ fit }) => fit.points.filter((point) => point.downDb === downDb))),
        }),
      },
      'fig-response',
    ),
  );
  return [{ rank: 2, topic: 'range', headline: { ...firstShort(statements), ...doubt } }];
}

/** The same for fewer and fewer settings, from three down. */
function shortening(quoted: Quoted[], make: (told: Quoted[], more: number) => Statement): Statement[] {
  return [3, 2, 1]
    .filter((count) => count <= quoted.length || count === 1)
    .map((count) => make(quoted.slice(0, count), quoted.length - count));
}

/** What speaks against numbers read at some frequencies of the fits: caveats of other places do not. */
function doubtIn(quoted: Quoted[], placesOf: (fit: BandFit) => (number | null)[]): { doubt?: string } {
  for (const { fit } of quoted) {
    const places = placesOf(fit).filter((hz) => hz !== null);
    const doubt = doubtOf(
      [{ caveats: fit.caveats.filter(({ code }) => code !== 'needed-height-of-part') }],
      places.map((hz): Interval => [hz * 2 ** -BESIDE_OCTAVES, hz * 2 ** BESIDE_OCTAVES]),
    );
    if (doubt !== undefined) return { doubt };
  }
  return {};
}
