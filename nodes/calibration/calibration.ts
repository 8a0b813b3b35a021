import type { Calibration } from '../../lib/analysis/calibration/calibration';
import { type Caveat, isDoubted } from '../../lib/model/caveat';
import type { Measurement, Recording } from '../../lib/model/curve';
import { makeCaveat } from '../../lib/words/makeCaveat';
import { define, type Library } from '../define';
import { calibrateAll } from './calibrateAll';
import { fields } from './fields';
import { findCalibration, type Memory } from './findCalibration';

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
        findings: { notes: [makeCaveat('calibration-none', 'remark', {})] },
        set: pass,
        status: RED._('status.none'),
        doubtful: true,
      };
    }
    const { fullScaleDb, caveats } = calibration;
    const status = RED._('status.calibrated', { level: fullScaleDb.toFixed(1) });
    if (others.length === 0) {
      // the recording of the calibrator came alone: what comes later is calibrated with it
      node.status({ fill: isDoubted(calibration) ? 'yellow' : 'green', shape: 'dot', text: status });
      return undefined;
    }
    const { payload, notes: ofCurves } = calibrateAll(lib, others, fullScaleDb);
    return {
      payload,
      findings: { notes: [howCalibrated(calibration), ...caveats, ...notes, ...ofCurves] },
      set: { ...pass, fullScaleDb },
      status,
    };
  },
});

function isOfCalibrator(lib: Library, one: Measurement): one is Recording {
  return one.kind === 'recording' && one.role === 'capture' && lib.isCalibratorName(one.label);
}

function howCalibrated({ fullScaleDb, from, toneHz = 0, toneDbfs = 0 }: Calibration): Caveat {
  if (from === 'tone') return makeCaveat('calibrated-by-tone', 'remark', { fullScaleDb, toneDbfs, toneHz });
  return makeCaveat(from === 'given' ? 'calibrated-as-given' : 'calibrated-by-sensitivity', 'remark', { fullScaleDb });
}
