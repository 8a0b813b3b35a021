import { basename } from 'node:path';
import type { TextOptions } from '../../lib';
import type { Measurement } from '../../lib/model/curve';
import { BassloomError } from '../../lib/model/errors';
import type { Procedure } from '../configs';
import type { Library } from '../define';

/** Noise runs, corrections, stimuli and calibrators are known by their names, which then say nothing else. */
export function whatNameSays(lib: Library, path = '', isSound = false): Pick<TextOptions, 'role' | 'namePattern'> {
  if (lib.isNoiseName(path)) return { role: 'noise', namePattern: undefined };
  if (isSound) return isStimulusName(path) || lib.isCalibratorName(path) ? { namePattern: undefined } : {};
  return lib.isCorrectionName(path) ? { role: 'correction', namePattern: undefined } : {};
}

/** Whether a file is called like a stimulus, the sound that was played. */
export function isStimulusName(path = ''): boolean {
  return /^stimulus/i.test(basename(path).trimStart());
}

/** @throws BassloomError `name-mismatch`. */
export function checkName(lib: Library, path: string | undefined, options: TextOptions): void {
  const { namePattern, stepDb } = options;
  if (path === undefined || namePattern === undefined || lib.readFileName(path, namePattern, stepDb).matches) return;
  const what = `${basename(path)} is not called as the pattern ${namePattern} says; rename it, or change the pattern.`;
  throw new BassloomError('name-mismatch', what, { field: 'namePattern' });
}

/** Say in a measurement how it was made; what its file name says goes first. A stimulus was not measured. */
export function stamp<M extends Measurement>(measurement: M, procedure: Procedure | undefined): M {
  if (!procedure || (measurement.kind === 'recording' && measurement.role !== 'capture')) return measurement;
  const { name, position, distanceM } = procedure;
  const fixed = Object.entries({ procedure: name, position, distanceM }).filter(([, value]) => value !== undefined);
  return { ...measurement, about: { ...Object.fromEntries(fixed), ...measurement.about } };
}

/**
 * The unit that a noise run is of, as its name says it: the folder it is in, or what stands before the part of the name
 * that calls it noise ('Box 7_noise', 'Box 7_flat_muted'), read by the pattern as far as the unit. None where it says no unit.
 */
export function unitOfNoise(lib: Library, path: string, namePattern: string | undefined): string | undefined {
  if (namePattern === undefined) return undefined;
  const folders = /[/\\]/.test(namePattern) ? 0 : path.split('/').length - 1;
  if (folders > 0) return path.split('/')[folders - 1];
  // {device} and the text behind it; what follows may be anything
  const [, opening] = /^(\{device\}[^{}/\\]+)/.exec(namePattern) ?? [];
  if (opening === undefined) return undefined;
  const { device } = lib.readFileName(path, `${opening}{*}`).about;
  return device === undefined || lib.isNoiseName(device) ? undefined : device;
}

/** The unit that a file name says a run is of. */
export function unitIn(lib: Library, path: string, { namePattern, stepDb }: TextOptions): string | undefined {
  if (namePattern === undefined || lib.isNoiseName(path)) return undefined;
  return lib.readFileName(path, namePattern, stepDb).about.device;
}

/**
 * The pattern for a file in a folder of a watched one: where the pattern names no folders and the file does not follow
 * it, the folder is the unit, and the name says the rest.
 */
export function patternBelow(lib: Library, path: string, { namePattern, stepDb }: TextOptions): string | undefined {
  if (namePattern === undefined || !path.includes('/') || /[/\\]/.test(namePattern)) return namePattern;
  if (lib.readFileName(path, namePattern, stepDb).matches) return namePattern;
  const rest = namePattern.replace(/\{device\}[^{}]*/, '');
  return `{device}/${rest === '' ? '{*}' : rest}`;
}
