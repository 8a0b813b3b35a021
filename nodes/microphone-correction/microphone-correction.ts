import { makeCaveat } from '../../lib/words/makeCaveat';
import { define } from '../define';
import { text } from '../fields';
import { curvesIn } from '../payload';
import { readCorrection } from '../readCorrection';

export = define({
  type: 'bassloom-microphone-correction',
  settings: { correctionFile: text() },
  async run(work) {
    const { lib, RED, measurements } = work;
    const payload = measurements();
    const { notes, ...read } = await readCorrection(work);
    const correction = read.correction ?? curvesIn(payload).find((curve) => curve.role === 'correction');
    if (!correction) {
      const notes = [makeCaveat('no-correction', 'remark', {})];
      return { findings: { notes }, status: RED._('status.none'), doubtful: true };
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
