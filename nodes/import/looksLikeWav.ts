import { extname } from 'node:path';

const OPENINGS = ['RIFF', 'RIFX', 'RF64', 'BW64'];
const ENDINGS = ['.wav', '.wave', '.bwf', '.rf64'];

/** Whether something is to be read as a WAV file: it begins like one, or its name says that it is one. */
export function looksLikeWav(content: string | Uint8Array, path = ''): boolean {
  if (ENDINGS.includes(extname(path).toLowerCase())) return true;
  return typeof content !== 'string' && OPENINGS.includes(Buffer.from(content.subarray(0, 4)).toString('latin1'));
}
