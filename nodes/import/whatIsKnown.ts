import { basename } from 'node:path';
import type { TextOptions } from '../../lib';
import type { Curve } from '../../lib/model/curve';
import { BassloomError } from '../../lib/model/errors';
import type { Procedure } from '../configs';
import type { Library } from '../define';

/** Noise runs and corrections are known by their names, which then say nothing else. */
export function whatNameSays(lib: Library, path = ''): Pick<TextOptions, 'role' | 'namePattern'> {
  if (lib.isNoiseName(path)) return { role: 'noise', namePattern: undefined };
  const isCorrection = /^(mic|microphone)?[\s_-]*correction/i.test(basename(path));
  return isCorrection ? { role: 'correction', namePattern: undefined } : {};
}

/** @throws BassloomError `name-mismatch`. */
export function checkName(lib: Library, path: string | undefined, options: TextOptions): void {
  const { namePattern, stepDb } = options;
  if (path === undefined || namePattern === undefined || lib.readFileName(path, namePattern, stepDb).matches) return;
  const what = `${basename(path)} is not called as the pattern ${namePattern} says; rename it, or change the pattern.`;
  throw new BassloomError('name-mismatch', what, { field: 'namePattern' });
}

/** Say in a curve how it was measured; what its file name says goes first. */
export function stamp(curve: Curve, procedure: Procedure | undefined): Curve {
  if (!procedure) return curve;
  const { name, position, distanceM } = procedure;
  const fixed = Object.entries({ procedure: name, position, distanceM }).filter(([, value]) => value !== undefined);
  return { ...curve, about: { ...Object.fromEntries(fixed), ...curve.about } };
}
