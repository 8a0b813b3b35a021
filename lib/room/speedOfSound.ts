import { makeRefusal } from '../words/makeRefusal';

/** Air temperature that is assumed where none is given, degrees Celsius. */
export const DEFAULT_TEMPERATURE_C = 20;

/**
 * Speed of sound in dry air, 331.3 sqrt(1 + T / 273.15) m/s (ideal gas; humidity adds 0.4 % at most).
 *
 * @param temperatureC air temperature, degrees Celsius; 20 where left out.
 * @throws BassloomError `room-temperature` at or below absolute zero, or where it is not a number.
 *
 * @example
 * speedOfSound(20) // 343.2...
 */
export function speedOfSound(temperatureC = DEFAULT_TEMPERATURE_C): number {
  if (!Number.isFinite(temperatureC) || temperatureC <= -273.15) {
    throw makeRefusal('room-temperature', { value: temperatureC }, { field: 'temperatureC' });
  }
  return 331.3 * Math.sqrt(1 + temperatureC / 273.15);
}
