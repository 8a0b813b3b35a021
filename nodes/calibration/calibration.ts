import type { Calibration } from '../../lib/analysis/calibration/calibration';
import type { Measurement, Recording } from '../../lib/model/curve';
import { asCaveats } from '../../lib/words/makeCaveat';
import { define, type Library } from '../define';
import { calibrateAll } from './calibrateAll';
import { fields } from './fields';
import { findCalibration, type Memory } from './findCalibration';

const NO_CALIBRATION =
  'Levels are relative, not sound pressure levels: nothing to calibrate with was given. Send the recording of a calibrator first, or name its file.';

export = define({
  type: 'bassloom-calibration',
  settings: fields,
  open: (): Memory => ({}),
  async run(work) {
    const { lib, RED, node, message, measurements, settings } = work;
    const all = message.payload === undefined && message.calibration ? [] : measurements();
    const named = all.filter((one) => isOfCalibrator(lib, one));
    const others = all.filter((one) => !isOfCalibrator(lib, one));
    const { calibration, notes } = await findCalibration(work, named);
    const pass = settings.procedure && { procedure: settings.procedure };
    if (!calibration) {
      return {
        findings: { notes: asCaveats([NO_CALIBRATION]) },
        set: pass,
        status: RED._('status.none'),
        doubtful: true,
      };
    }
    const { fullScaleDb, caveats } = calibration;
    const status = RED._('status.calibrated', { level: fullScaleDb.toFixed(1) });
    const doubtful = caveats.length > 0;
    if (others.length === 0) {
      // the recording of the calibrator came alone: what comes later is calibrated with it
      node.status({ fill: doubtful ? 'yellow' : 'green', shape: 'dot', text: status });
      return undefined;
    }
    const { payload, notes: ofCurves } = calibrateAll(lib, others, fullScaleDb);
    const own = [describe(calibration), ...caveats.map(({ message }) => message)].map((text) => `Calibration: ${text}`);
    return {
      payload,
      findings: { notes: asCaveats([...own, ...notes, ...ofCurves]) },
      set: { ...pass, fullScaleDb },
      status,
      doubtful,
    };
  },
});

function isOfCalibrator(lib: Library, one: Measurement): one is Recording {
  return one.kind === 'recording' && one.role === 'capture' && lib.isCalibratorName(one.label);
}

function describe({ fullScaleDb, from, toneHz, toneDbfs }: Calibration): string {
  const level = `A full-scale sine is ${fullScaleDb.toFixed(1)} dB`;
  if (from !== 'tone') return `${level}, ${from === 'given' ? 'as it was given' : 'from stated sensitivities'}.`;
  return `${level}, from a tone of ${toneDbfs?.toFixed(1)} dBFS at ${toneHz?.toFixed(0)} Hz.`;
}
