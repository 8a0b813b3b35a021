import { makeRefusal } from '../../words/makeRefusal';

/**
 * Bring a level from one distance to another by the inverse distance law: 6.02 dB less for twice the distance.
 *
 * @param levelDb at `fromM`. @param fromM @param toM distances from the source, m.
 * @returns dB at `toM`: right for a free field, or on
 * the ground outdoors (half space), well beyond the size of the unit; a room adds its own.
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

function checkDistance(field: string, value: number): void {
  if (value > 0 && Number.isFinite(value)) return;
  throw makeRefusal('distance', { value }, { field });
}
