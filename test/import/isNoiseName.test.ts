import { expect, test } from 'vitest';
import { isNoiseName } from '../../lib';

test.each([
  'noise.txt',
  'a/Noise 2.wav',
  'unit A_flat_noise.txt',
  'muted.wav',
  'unit-muted-2.wav',
  'silence, left.wav',
])('%s is of noise', (name) => expect(isNoiseName(name)).toBe(true));

test.each(['unit_noisegate on_step-2.txt', 'unmuted.txt', 'unit_flat_step-0.txt', 'noise/unit.txt', ''])(
  '%s is not of noise',
  (name) => expect(isNoiseName(name)).toBe(false),
);

test('of what is played, noise is a sound like others', () => {
  expect(isNoiseName('pink noise.wav', { played: true })).toBe(false);
  expect(isNoiseName('sweep muted.wav', { played: true })).toBe(true);
});
