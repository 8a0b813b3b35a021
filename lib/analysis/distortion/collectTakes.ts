import type { Caveat } from '../../model/caveat';
import type { Curve } from '../../model/curve';
import { captureOf } from '../../response/captureWarnings';
import { makeCaveat } from '../../words/makeCaveat';
import { makeRefusal } from '../../words/makeRefusal';
import { checkAlike } from './checkAlike';
import type { Take } from './take';

/** The takes at one drive. */
export interface DistortionRung {
  curve: string;
  label: string;
  driveDb: number;
  takes: Take[];
}

export interface CollectedTakes {
  /** Lowest drive first. */
  rungs: DistortionRung[];
  caveats: Caveat[];
}

/** Drives closer than this are the same drive, dB. */
const SAME_DRIVE_DB = 0.01;

/**
 * Put responses and harmonics together, and sort them into rungs by drive.
 *
 * @param curves responses and harmonics of one unit in one setting, in any order; other roles are passed over.
 * @returns rungs by rising drive; curves of no known drive are taken to be at 0 dB. The same numbers twice count once.
 * @throws BassloomError `no-harmonics`, `mixed-devices`, `mixed-settings`, `mixed-scales`, `mixed-curves`,
 * `weighted-curves`.
 *
 * Notes: a response and its harmonics are told by their capture; where they name none that both have, by drive,
 * position, distance and time.
 */
export function collectTakes(curves: Curve[]): CollectedTakes {
  const used = curves.filter(({ role }) => role === 'response' || role === 'harmonic').sort(inOrder);
  const takes = [...groupTakes(used).values()];
  const whole = takes.filter(({ responses, harmonics }) => responses.length > 0 && harmonics.size > 0);
  if (whole.length === 0) throw makeRefusal('no-harmonics', { why: 'no pair' }, { field: 'curves' });
  checkAlike(whole);
  const kept = whole.flatMap(({ responses }) => responses);
  const drives = new Set(kept.map(({ about }) => about.driveDb === undefined));
  const places = new Set(kept.map(({ about }) => `${about.position ?? ''} ${about.distanceM ?? ''}`));
  const rungs = groupByDrive(whole);
  return {
    rungs,
    caveats: [
      ...takes.filter((take) => !whole.includes(take)).map(leftOut),
      ...(drives.size > 1 ? [makeCaveat('thd-drives-unknown', 'doubt', {})] : []),
      ...(places.size > 1 ? [makeCaveat('thd-places-differ', 'doubt', {})] : []),
      ...rungs.flatMap(({ takes: { length: runs }, driveDb }) =>
        runs > 1 ? [makeCaveat('thd-repeats', 'remark', { runs, driveDb }, { driveDb: [driveDb] })] : [],
      ),
    ],
  };
}

function groupTakes(curves: Curve[]): Map<string, Take> {
  const captures = (role: Curve['role']) => new Set(curves.filter((one) => one.role === role).map(captureOf));
  const [ofResponses, ofHarmonics] = [captures('response'), captures('harmonic')];
  const takes = new Map<string, Take>();
  for (const curve of curves) {
    const capture = captureOf(curve);
    const { driveDb = 0, position, distanceM, takenAt } = curve.about;
    const isTold = ofResponses.has(capture) && ofHarmonics.has(capture);
    const key = JSON.stringify(isTold && capture ? [capture, driveDb] : [null, driveDb, position, distanceM, takenAt]);
    const take = takes.get(key) ?? { responses: [], harmonics: new Map() };
    takes.set(key, take);
    const { order } = curve;
    if (curve.role === 'response') addOnce(take.responses, curve);
    else if (order !== undefined) {
      const alike = take.harmonics.get(order) ?? [];
      take.harmonics.set(order, alike);
      addOnce(alike, curve);
    }
  }
  return takes;
}

function addOnce(list: Curve[], curve: Curve): void {
  if (!list.some(({ id }) => id === curve.id)) list.push(curve);
}

function groupByDrive(takes: Take[]): DistortionRung[] {
  const groups: Take[][] = [];
  for (const take of [...takes].sort((a, b) => inOrder(a.responses[0], b.responses[0]))) {
    const group = groups[groups.length - 1];
    if (group && driveOf(take) - driveOf(group[0]) < SAME_DRIVE_DB) group.push(take);
    else groups.push([take]);
  }
  return groups.map((group) => {
    const responses = group.flatMap((take) => take.responses);
    return {
      curve: responses.map(({ id }) => id).join('+'),
      label: responses.map(({ label }) => label).join(' + '),
      driveDb: driveOf(group[0]),
      takes: group,
    };
  });
}

function leftOut({ responses, harmonics }: Take): Caveat {
  const [{ id, label }] = [...responses, ...[...harmonics.values()].flat()];
  const lacks = responses.length > 0 ? 'harmonics' : 'response';
  return makeCaveat('thd-run-left-out', 'remark', { label, lacks }, { curve: id });
}

function driveOf({ responses }: Take): number {
  return responses[0].about.driveDb ?? 0;
}

/** By drive, then by id, so that the order of the input does not matter. */
function inOrder(a: Curve, b: Curve): number {
  const apart = (a.about.driveDb ?? 0) - (b.about.driveDb ?? 0);
  return apart || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0);
}
