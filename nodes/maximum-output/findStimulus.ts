import { readFile } from 'node:fs/promises';
import type { Recording } from '../../lib/model/curve';
import { BassloomError } from '../../lib/model/errors';
import type { Library } from '../define';
import type { RedApi } from '../nodeRed';
import { pathToRead } from '../paths';

/**
 * Find the bursts that were played: in a file, else the last stimulus of the payload that holds bursts.
 *
 * @throws BassloomError `no-stimulus`, `not-bursts`, and as `readWav` does.
 */
export async function findStimulus(
  lib: Library,
  RED: RedApi,
  path: string | undefined,
  recordings: Recording[],
): Promise<Recording> {
  if (path) {
    const file = pathToRead(RED, path);
    return lib.readWav(await readFile(file), { name: file, role: 'stimulus' }).recording;
  }
  const stimuli = recordings.filter(({ role }) => role === 'stimulus').reverse();
  const [only] = stimuli;
  if (only) return stimuli.length === 1 ? only : (stimuli.find((one) => lib.isBursts(one)) ?? only);
  throw new BassloomError(
    'no-stimulus',
    'There is no stimulus: name the file of the bursts that were played, or let it come in the payload with the captures.',
    { field: 'stimulusFile' },
  );
}
