import { basename } from 'node:path';
import { BassloomError } from '../../lib/model/errors';
import type { Library } from '../define';
import { betterPattern } from './betterPattern';

const EXAMPLES: Record<string, string> = {
  ...{ device: 'Sub', setting: 'flat', step: '3', driveDb: '-6', position: 'seat', takenAt: '2024-05-01' },
  ...{ procedure: 'near', distanceM: '1' },
};

/** What to do about files that are not called as the pattern says: a name that would do, and a pattern that they follow. */
export function hintAtPattern(
  lib: Library,
  odd: string[],
  { namePattern, stepDb }: { namePattern: string; stepDb: number },
): BassloomError {
  const example = namePattern.replace(/\{\s*([^{}]*?)\s*\}/g, (_, field) => EXAMPLES[field] ?? '');
  const found = betterPattern(lib, odd, stepDb);
  const matching = found ? odd.filter((name) => lib.readFileName(name, found, stepDb).matches).length : 0;
  const who = odd.length === 1 ? basename(odd[0]) : `${odd.length} files, such as ${basename(odd[0])},`;
  const what = `${who} ${odd.length === 1 ? 'does' : 'do'} not follow the pattern ${namePattern}. A name that does: ${example}.`;
  const offer = `The pattern ${found} reads ${matching} of them; set it as the file-name pattern (in the lab, BASSLOOM_PATTERN).`;
  return new BassloomError('name-mismatch', `${what} ${found ? offer : 'Rename them, or write a pattern for them.'}`, {
    field: 'namePattern',
  });
}
