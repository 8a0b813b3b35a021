import type { RoomFeature } from '../../model/findings';
import type { RunGroup } from './roomTrace';
import { rimDepthDb, type Sight, type Sought } from './seenIn';

/** What runs of one unit in one setting and position say of a feature. */
export interface GroupSight {
  group: RunGroup;
  sights: Sight[];
}

/**
 * The same feature is there where this part of its depth is, or so many dB (noise fills deep nulls); it is clearly not
 * where no more than the other part is. Between them lie the bends of a room beside which a unit has a dip of its own.
 */
const SAME = 0.5;
const SAME_DB = 6;
const CLEARLY_NOT = 0.25;

/** Of the units that could show it, so many must. */
const NEARLY_ALL = 2 / 3;

/** Who has a feature, as far as runs of several units tell. */
export interface Owners {
  /** Different units that show it. */
  units: number;
  /** What that shows: 'room' where it comes with different units, 'unit' where another one in the same place lacks it. */
  shows: RoomFeature['belongsTo'];
}

/**
 * Tell from who shows a feature and who does not whose it is.
 *
 * @param seen what each group of runs says. @param sought the feature. @param toleranceHz how far off it may lie.
 * @param depthDb its depth below its rim where it is surest.
 *
 * Notes: the room gives the same to all that stands in one place. Two settings of one unit show nothing of the room,
 * since they share the unit; but where one of them lacks the feature in the same place, it is not the room's. Runs
 * that name no unit are nobody's in particular.
 */
export function ownersOf(seen: GroupSight[], sought: Sought, toleranceHz: number, depthDb: number): Owners {
  const rimDb = ({ group }: GroupSight) => rimDepthDb(group.mean, sought, toleranceHz);
  const has = seen.filter((one) => one.sights.includes('seen') && rimDb(one) >= Math.min(SAME * depthDb, SAME_DB));
  const lacks = seen.filter(
    (one) =>
      one.sights.some((sight) => sight === 'seen' || sight === 'not seen') && rimDb(one) <= CLEARLY_NOT * depthDb,
  );
  const devices = (groups: GroupSight[]) =>
    new Set(groups.map(({ group }) => group.mean.about.device).filter((device) => device !== undefined));
  const with_ = devices(has);
  const without = [...devices(lacks)].filter((device) => !with_.has(device)).length;
  const units = with_.size;
  if (units > 1) return { units, shows: units / (units + without) >= NEARLY_ALL ? 'room' : 'unknown' };
  const places = new Set(has.map(({ group }) => group.mean.about.position));
  const lackedHere = lacks.some(({ group }) => places.has(group.mean.about.position));
  return { units: has.length > 0 ? Math.max(units, 1) : 0, shows: lackedHere ? 'unit' : 'unknown' };
}
