import type { RoomFeature } from '../model/findings';
import { describe } from './describe';

/**
 * Say in a few words what a dip or peak comes from: 'axial mode (1,0,0) at 28.6 Hz'.
 *
 * @param cause of a room feature. @param locale as {@link describe} takes it.
 * @returns '' where there is nothing to say beyond the type.
 *
 * @example
 * describeCause(findRoomFeatures(curves, { room })[0].cause, 'en-GB')
 */
export function describeCause({ type, values }: Omit<RoomFeature['cause'], 'detail'>, locale = 'en'): string {
  if (!values) return '';
  return describe({ code: `cause-${values.as ?? type}`, values, message: '' }, locale);
}
