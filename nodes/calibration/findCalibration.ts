import type { Calibration } from '../../lib/analysis/calibration/calibration';
import type { Caveat } from '../../lib/model/caveat';
import type { Recording } from '../../lib/model/curve';
import { BassloomError } from '../../lib/model/errors';
import type { Work } from '../define';
import type { fields } from './fields';
import { findRecording } from './findRecording';

/** The last calibration by a calibrator's recording: it holds for all messages until the node is deployed anew. */
export interface Memory {
  last?: Calibration;
  /** What it was read from, and how: the same is not read twice. */
  lastFrom?: string;
}

export interface Calibrated {
  calibration?: Calibration;
  notes: Caveat[];
}

/**
 * Find out what digital full scale is worth, by the way that the node is set to.
 *
 * @param named recordings among the measurements whose name says that they are of a calibrator.
 * @returns no calibration where there is nothing to calibrate with.
 * @throws BassloomError `bad-setting`, and as the calibrations of the library do.
 */
export async function findCalibration(work: Work<typeof fields, Memory>, named: Recording[]): Promise<Calibrated> {
  const { lib, settings, memory } = work;
  const { source, fullScaleDb, toneDb, toneHz, channel } = settings;
  const given: Calibration | undefined =
    fullScaleDb === undefined ? undefined : { fullScaleDb, from: 'given', caveats: [] };
  if (source === 'fullScale') return { calibration: given, notes: [] };
  if (source === 'sensitivity') {
    const calibration = lib.calibrateFromSensitivity({
      sensitivityMvPerPa: needed(settings, 'sensitivityMvPerPa'),
      fullScaleV: needed(settings, 'fullScaleV'),
      gainDb: settings.gainDb,
    });
    return { calibration, notes: [] };
  }
  const found = await findRecording(work, named);
  if (!found) return { calibration: memory.last ?? given, notes: [] };
  const from = JSON.stringify([found.recording.id, toneDb, toneHz, channel]);
  if (from !== memory.lastFrom) {
    memory.last = lib.calibrateFromTone(found.recording, { levelDb: toneDb, frequencyHz: toneHz, channel });
    memory.lastFrom = from;
  }
  return { calibration: memory.last, notes: found.notes };
}

function needed<N extends 'sensitivityMvPerPa' | 'fullScaleV'>(settings: Record<N, number | undefined>, name: N) {
  const value = settings[name];
  if (value !== undefined) return value;
  const what = `Setting "${name}" is empty, and so is msg.${name}; full scale cannot be reckoned without it.`;
  throw new BassloomError('bad-setting', what, { field: name });
}
