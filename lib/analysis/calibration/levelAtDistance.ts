import { BassloomError } from '../../model/errors';

/**
 * Bring a level from one distance to another by the inverse distance law: 6.02 dB less for twice the distance.
 *
 * @param levelDb at `fromM`. @param fromM @param toM distances from the source, m.
 * @returns dB at `toM`; see `distanceAssumption` for what must hold.
 * @throws BassloomError `distance` where one is not above 0.
 *
 * Reference: ISO 3744:2010 and any textbook: pressure of a spherical wave falls as 1 / r.
 *
 * @example
 * levelAtDistance(100, 1, 2) // 93.98
 */
export function levelAtDistance(levelDb: number, fromM: number, toM: number): number {
  checkDistance('fromM', fromM);
  checkDistance('toM', toM);
  return levelDb - 20 * Math.log10(toM / fromM);
}

/**
 * Say what a level brought to another distance rests on.
 *
 * @throws BassloomError `distance`.
 *
 * @example
 * distanceAssumption(2, 1) // 'Brought from 2 m to 1 m by the inverse distance law (+6.0 dB): ...'
 */
export function distanceAssumption(fromM: number, toM: number): string {
  const change = levelAtDistance(0, fromM, toM);
  if (change === 0) return `As measured, at ${metres(fromM)} m; a room adds its own.`;
  return (
    `Brought from ${metres(fromM)} m to ${metres(toM)} m by the inverse distance law ` +
    `(${change > 0 ? '+' : ''}${change.toFixed(1)} dB): right for free field, or on the ground outdoors (half space), at ` +
    'distances well beyond the size of the unit. In a room, whose modes and boundaries add their own, the true level differs.'
  );
}

function metres(distance: number): string {
  return String(Number(distance.toPrecision(3)));
}

function checkDistance(field: string, value: number): void {
  if (value > 0 && Number.isFinite(value)) return;
  throw new BassloomError('distance', `${field} is ${value}; give metres above 0, such as 1.`, { field });
}
