import type { CaveatValue } from '../../../model/caveat';
import type { Format } from '../../format';
import type { Phrases, Place } from '../../phrase';
import { given } from './given';

type Value = { value: CaveatValue };
const ALONG = ['the length', 'the width', 'the height'];
const PLACES: Record<string, string> = { source: 'source', microphone: 'microphone' };

function aboveZero(unit: string) {
  return ({ value }: Value, { field }: Place, say: Format): string =>
    `Room: ${field} is ${given(value, say)}; give a number of ${unit} above 0.`;
}

/** What is wrong with a room, or asked of it. */
export const room = {
  'room-dimension': aboveZero('metres'),
  'room-decay': aboveZero('seconds'),
  'room-temperature': ({ value }: Value, _where, say) =>
    `The temperature is ${given(value, say)}; give degrees Celsius, such as 20.`,
  'position-missing': (_values: Record<string, never>, { field = '' }) =>
    `The room has no ${PLACES[field] ?? field}; give its position as [x, y, z] in metres.`,
  'position-malformed': (_values: Record<string, never>, { field }) =>
    `Room: ${field} must be three numbers in metres: [along the length, along the width, height].`,
  'position-outside': ({ axis, atM, sideM }: { axis: number; atM: number; sideM: number }, { field }, say) =>
    `Room: ${field} is at ${say.exact(atM, 'm')} along ${ALONG[axis]}, outside the room (0 to ${say.exact(sideM, 'm')}).`,
  'positions-coincide': ({ apartM, leastM }: { apartM: number; leastM: number }, _where, say) =>
    `Room: source and microphone are ${say.number(apartM, 3)}\u00a0m apart; they must be at least ${say.exact(leastM, 'm')} apart.`,
  'frequency-not-positive': ({ value, index }: Value & { index: number | null }, { field }, say) =>
    `${field}${index === null ? '' : `[${index}]`} is ${given(value, say, 'Hz')}; give a frequency above 0.`,
  'too-many-modes': (values: { toHz: number; modes: number } | { frequencies: number; terms: number }, _where, say) =>
    'modes' in values
      ? `Up to ${say.hz(values.toHz)} this room has about ${say.hertz(values.modes)} modes; ask for a lower frequency.`
      : `The room's transfer at ${say.count(values.frequencies, 'frequency', 'frequencies')} takes about ${say.exact(Number(values.terms.toPrecision(1)))} terms. Ask for fewer or lower frequencies: above some hundred Hz, a sum of modes says little about a real room.`,
} satisfies Phrases;
