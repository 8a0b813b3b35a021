import { readFile } from 'node:fs/promises';
import type { Curve } from '../../lib/model/curve';
import { BassloomError } from '../../lib/model/errors';
import { define, type Work } from '../define';
import { text } from '../fields';
import { fullPath } from '../paths';
import { curvesIn, isMeasurement } from '../payload';

const NO_CORRECTION = 'No microphone correction was applied: none was given.';

const settings = { correctionFile: text() };

export = define({
  type: 'bassloom-microphone-correction',
  settings,
  async run(work) {
    const { lib, RED, measurements } = work;
    const payload = measurements();
    const { correction, notes } = await findCorrection(work);
    if (!correction) {
      return { findings: { notes: [NO_CORRECTION] }, status: RED._('status.none'), doubtful: true };
    }
    const corrected = payload.map((measurement) =>
      measurement.kind === 'curve' && measurement.role !== 'correction'
        ? lib.correctMicrophone(measurement, correction)
        : measurement,
    );
    const count = corrected.filter((measurement, i) => measurement !== payload[i]).length;
    return { payload: corrected, findings: { notes }, status: RED._('status.corrected', { count }) };
  },
});

async function findCorrection({
  lib,
  RED,
  settings: { correctionFile },
  message,
  measurements,
}: Work<typeof settings, undefined>): Promise<{ correction?: Curve; notes: string[] }> {
  const read = (source: string | Uint8Array, name?: string) => {
    const { curve, notes } = lib.importText(source, { name, role: 'correction' });
    return { correction: curve, notes: notes.map((note) => `${curve.label}: ${note}`) };
  };
  if (correctionFile) {
    const path = fullPath(RED, correctionFile);
    return read(await readFile(path), path);
  }
  const { correction } = message;
  if (typeof correction === 'string' || correction instanceof Uint8Array) return read(correction);
  if (correction) {
    if (isMeasurement(correction)) return { correction: correction as Curve, notes: [] };
    throw new BassloomError('not-measurements', 'msg.correction is no curve and no text.', { field: 'correction' });
  }
  return { correction: curvesIn(measurements()).find((curve) => curve.role === 'correction'), notes: [] };
}
