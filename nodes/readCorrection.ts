import { readFile } from 'node:fs/promises';
import type { Caveat } from '../lib/model/caveat';
import type { Curve } from '../lib/model/curve';
import { BassloomError } from '../lib/model/errors';
import type { Library } from './define';
import type { Message, RedApi } from './nodeRed';
import { fullPath } from './paths';
import { isMeasurement } from './payload';

interface Asking {
  lib: Library;
  RED: RedApi;
  settings: { correctionFile?: string };
  message: Message;
}

/**
 * Read the microphone correction from the file that a node names, else from `msg.correction`: a curve, or the content of
 * such a file.
 *
 * @returns none where neither is there, and what reading guessed.
 * @throws BassloomError `not-measurements`, and as `importText` does.
 */
export async function readCorrection({
  lib,
  RED,
  settings: { correctionFile },
  message: { correction },
}: Asking): Promise<{ correction?: Curve; notes: Caveat[] }> {
  const read = (source: string | Uint8Array, name?: string) => {
    const { curve, notes } = lib.importText(source, { name, role: 'correction' });
    return { correction: curve, notes };
  };
  if (correctionFile) {
    const path = fullPath(RED, correctionFile);
    return read(await readFile(path), path);
  }
  if (typeof correction === 'string' || correction instanceof Uint8Array) return read(correction);
  if (!correction) return { notes: [] };
  if (isMeasurement(correction) && (correction as Curve).kind === 'curve') {
    return { correction: lib.checkMeasurement(correction, 'msg.correction') as Curve, notes: [] };
  }
  throw new BassloomError('not-measurements', 'msg.correction is neither a curve nor text; give one or the other.', {
    field: 'correction',
  });
}
