import type { Caveat } from '../../lib/model/caveat';
import type { Measurement } from '../../lib/model/curve';
import type { Library } from '../define';
import type { Values } from '../fields';
import { type fields, textOptions } from './fields';
import { looksLikeWav } from './looksLikeWav';
import { readRecordings } from './readRecordings';
import { checkName, stamp, whatNameSays } from './whatIsKnown';

/**
 * Make measurements of the content of one file, a WAV file or text, and notes of what was guessed.
 *
 * @param name the file's, which says what it is.
 * @throws BassloomError `name-mismatch`, and those of `readWav` and `importText`.
 */
export function readSource(
  lib: Library,
  content: string | Uint8Array,
  name: string | undefined,
  settings: Values<typeof fields>,
): { measurements: Measurement[]; notes: Caveat[] } {
  const isSound = looksLikeWav(content, name);
  const known = settings.role ? {} : whatNameSays(lib, name, isSound);
  const options = { ...textOptions(settings), role: settings.role, name, ...known };
  if (settings.mustMatch) checkName(lib, name, options);
  if (isSound) {
    const { recordings, notes } = readRecordings(lib, asBytes(content), name, settings);
    return { measurements: recordings, notes };
  }
  const { curve, notes } = lib.importText(content, options);
  return { measurements: [stamp(curve, settings.procedure)], notes };
}

/** Text in a file that is called a WAV file: its refusal says what it is not. */
function asBytes(content: string | Uint8Array): Uint8Array {
  return typeof content === 'string' ? Buffer.from(content) : content;
}
