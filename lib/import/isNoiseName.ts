import { pathParts } from './filePath';

/**
 * Whether a file is called like a noise run: its name, path aside, begins with 'noise' in any case.
 *
 * @example
 * isNoiseName('unit A/Noise 2.txt') // true
 */
export function isNoiseName(path: string): boolean {
  return /^noise/i.test((pathParts(path).at(-1) ?? '').trimStart());
}
