import { bareName } from './filePath';

/**
 * Whether a file is called like a run of nothing but noise: its name, path aside, begins or ends with 'noise', or has
 * 'muted' or 'silence' as a word of its own, in any case.
 *
 * @param played the file is what is played, where 'noise' is a sound like others.
 *
 * @example
 * isNoiseName('unit A/Noise 2.txt') // true
 * isNoiseName('unit A_flat_muted.wav') // true
 */
export function isNoiseName(path: string, { played = false } = {}): boolean {
  const name = bareName(path);
  if (/(^|[\s_.,-])(muted|silence)([\s_.,-]|$)/i.test(name)) return true;
  return !played && /^noise|[\s_.,-]noise$/i.test(name);
}
