import type { Caveat } from '../../model/caveat';
import type { Curve } from '../../model/curve';
import { interpolate } from '../../model/interpolate';
import { refuseWeighted } from '../../response/refuseWeighted';
import { makeCaveat } from '../../words/makeCaveat';
import { makeRefusal } from '../../words/makeRefusal';
import { median } from '../fitting/median';
import type { Rung } from './cells';

export interface Collected {
  /** Lowest drive first. */
  rungs: Rung[];
  noise: Curve[];
  device?: string;
  setting?: string;
  caveats: Caveat[];
}

/** Drives closer than this are the same drive, dB. */
const SAME_DRIVE_DB = 0.01;
/** The work grows with the third power of the rungs; a step of 0.2 dB over 60 dB has that many. */
const MOST_RUNGS = 300;
/** Repeats further apart than this are not of one drive, dB: some five times what runs scatter by (0.1 dB, both of two). */
const REPEATS_DB = 0.7;

/**
 * Sort curves into rungs and noise runs, and refuse what is not one ladder.
 *
 * @param curves responses of one unit in one setting, and noise runs, in any order; corrections are left out.
 * @param weighted whether curves weighted as a sound level meter does are accepted.
 * @returns rungs by rising drive. Curves of equal drive are one rung of repeats; the same numbers read twice count once.
 * @throws BassloomError `missing-drive`, `mixed-devices`, `mixed-settings`, `mixed-scales`, `weighted-curve`, `too-few-rungs`,
 * `too-many-rungs`.
 */
export function collectRungs(curves: Curve[], extraNoise?: Curve, weighted = false): Collected {
  const responses = curves.filter((curve) => curve.role === 'response').sort(inOrder);
  const noise = extraNoise ? [extraNoise] : curves.filter((curve) => curve.role === 'noise').sort(inOrder);
  const caveats: Caveat[] = [];
  checkOne(responses);
  checkScale([...responses, ...noise]);
  if (!weighted) for (const curve of [...responses, ...noise]) refuseWeighted(curve);
  const positions = new Set(responses.map((curve) => `${curve.about.position ?? ''} ${curve.about.distanceM ?? ''}`));
  if (positions.size > 1) caveats.push(makeCaveat('ladder-places-differ', 'doubt', {}));
  const rungs = groupByDrive(responses, caveats);
  if (rungs.length < 2) {
    throw makeRefusal('too-few-rungs', { rungs: rungs.length }, { field: 'about.driveDb' });
  }
  if (rungs.length > MOST_RUNGS) {
    throw makeRefusal('too-many-rungs', { rungs: rungs.length, most: MOST_RUNGS }, { field: 'about.driveDb' });
  }
  const { device, setting } = responses[0].about;
  return { rungs, noise, ...(device !== undefined && { device }), ...(setting !== undefined && { setting }), caveats };
}

function groupByDrive(responses: Curve[], caveats: Caveat[]): Rung[] {
  const groups: Curve[][] = [];
  for (const curve of responses) {
    const group = groups[groups.length - 1];
    if (group && driveOf(curve) - driveOf(group[0]) < SAME_DRIVE_DB) {
      if (!group.some((other) => other.id === curve.id)) group.push(curve);
    } else groups.push([curve]);
  }
  for (const group of groups) {
    if (group.length > 1) {
      const driveDb = driveOf(group[0]);
      caveats.push(makeCaveat('ladder-repeats', 'remark', { runs: group.length, driveDb }, { driveDb: [driveDb] }));
      const offDb = furthestApart(group);
      if (offDb > REPEATS_DB)
        caveats.push(makeCaveat('ladder-repeats-differ', 'doubt', { driveDb, offDb }, { driveDb: [driveDb] }));
    }
  }
  return groups.map((group) => ({
    id: group.map((curve) => curve.id).join('+'),
    label: group.map((curve) => curve.label).join(' + '),
    driveDb: driveOf(group[0]),
    curves: group,
  }));
}

/** How far the repeats of one drive lie apart as a whole: the median over frequency, so that noise and dips do not count, dB. */
function furthestApart([first, ...others]: Curve[]): number {
  const offs = others.map(({ frequencyHz, levelDb }) => {
    const [low, high] = [frequencyHz[0], frequencyHz[frequencyHz.length - 1]];
    const shared = first.frequencyHz.flatMap((hz, i) => (hz >= low && hz <= high ? [i] : []));
    const there = interpolate(
      frequencyHz,
      levelDb,
      shared.map((i) => first.frequencyHz[i]),
    );
    return shared.length > 0 ? median(shared.map((i, k) => there[k] - first.levelDb[i])) : 0;
  });
  return Math.max(0, ...offs) - Math.min(0, ...offs);
}

function checkOne(responses: Curve[]): void {
  const first = responses[0];
  for (const curve of responses) {
    if (!Number.isFinite(curve.about.driveDb)) {
      throw makeRefusal('missing-drive', { label: curve.label }, { field: 'about.driveDb' });
    }
    for (const [field, code] of [
      ['device', 'mixed-devices'],
      ['setting', 'mixed-settings'],
    ] as const) {
      if (curve.about[field] !== first.about[field]) {
        const [ofA, ofB] = [first, curve].map(({ about }) => about[field] ?? null);
        const values = { of: 'ladder', a: first.label, b: curve.label, ofA, ofB } as const;
        throw makeRefusal(code, values, { field: `about.${field}` });
      }
    }
  }
}

function checkScale(curves: Curve[]): void {
  const other = curves.find((curve) => curve.scale !== curves[0].scale);
  if (other) {
    const values = { a: curves[0].label, b: other.label, ofA: curves[0].scale, ofB: other.scale };
    throw makeRefusal('mixed-scales', values, { field: 'scale' });
  }
}

function driveOf(curve: Curve): number {
  return curve.about.driveDb as number;
}

/** By drive, then by id, so that the order of the input does not matter. */
function inOrder(a: Curve, b: Curve): number {
  const apart = (a.about.driveDb ?? 0) - (b.about.driveDb ?? 0);
  return apart || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0);
}
