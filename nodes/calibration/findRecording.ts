import { readFile, stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { type Caveat, inFile } from '../../lib/model/caveat';
import type { Measurement, Recording } from '../../lib/model/curve';
import { BassloomError } from '../../lib/model/errors';
import type { Library, Work } from '../define';
import { pathToRead } from '../paths';
import { isMeasurement } from '../payload';
import type { fields } from './fields';

/** A calibrator's recording, and what was odd about its file. */
export interface Found {
  recording: Recording;
  notes: Caveat[];
}

/** Larger files are no recordings of a calibrator, bytes. */
const MOST_BYTES = 256 * 1024 * 1024;

/**
 * Look for the recording of a calibrator: in a file, in `msg.calibration`, among the measurements.
 *
 * @param named those of the measurements whose name says so.
 * @throws BassloomError `file-too-large`, `not-a-recording`, and as `readWav` does.
 */
export async function findRecording(
  { lib, RED, settings, message }: Pick<Work<typeof fields, unknown>, 'lib' | 'RED' | 'settings' | 'message'>,
  named: Recording[],
): Promise<Found | undefined> {
  if (settings.calibratorFile) {
    const path = pathToRead(RED, settings.calibratorFile);
    const { size } = await stat(path);
    if (size > MOST_BYTES) {
      const what = `${basename(path)} has ${size} bytes; of a calibrator at most ${MOST_BYTES} are read.`;
      throw new BassloomError('file-too-large', what, { field: 'calibratorFile' });
    }
    return read(lib, await readFile(path), path);
  }
  const { calibration } = message;
  if (calibration instanceof Uint8Array) return read(lib, calibration, 'msg.calibration');
  if (calibration !== undefined && calibration !== null) {
    const isRecording = isMeasurement(calibration) && (calibration as Measurement).kind === 'recording';
    if (isRecording) return { recording: lib.checkMeasurement(calibration, 'msg.calibration') as Recording, notes: [] };
    const what = 'msg.calibration is neither a recording nor a WAV file in a Buffer.';
    throw new BassloomError('not-a-recording', what, { field: 'calibration' });
  }
  const last = named[named.length - 1];
  return last && { recording: last, notes: [] };
}

function read(lib: Library, wav: Uint8Array, name: string): Found {
  const { recording, notes } = lib.readWav(wav, { name });
  return { recording, notes: inFile(recording.label, notes) };
}
