import type { RoomFeature } from '../../model/findings';

/** Whether a feature may be left out as the room's: shown to be so, or listed by the user. */
export function isOfRoom({ belongsTo, cause }: RoomFeature): boolean {
  return belongsTo === 'room' || cause.type === 'listed';
}
