import type { Caveat } from '../../lib/model/caveat';
import type { Measurement } from '../../lib/model/curve';
import { define, type Library, withCause } from '../define';
import { explainFileProblem } from '../fileProblem';
import { fields } from './fields';
import { readSource } from './readSource';
import { sourcesOf } from './sources';

export = define({
  type: 'bassloom-import',
  settings: fields,
  async run({ lib, RED, node, settings, message }) {
    const payload: Measurement[] = [];
    const notes: Caveat[] = [];
    let refused = 0;
    for (const { name, read } of await sourcesOf(RED, settings, message)) {
      try {
        const { measurements, notes: own } = readSource(lib, await read(), name, settings);
        payload.push(...measurements);
        notes.push(...own);
      } catch (problem) {
        // Of several files, each bad one reaches Catch with its name, and the others go on.
        if (settings.source === 'payload') throw problem;
        node.error(withCause(explainFileProblem(problem)), { ...message, filename: name });
        refused++;
      }
    }
    if (payload.length === 0) {
      if (refused > 0)
        node.status({ fill: 'red', shape: 'ring', text: RED._('status.refused', { count: 0, refused }) });
      return undefined;
    }
    const unit = onlyUnit(lib, payload);
    return {
      payload,
      findings: { notes },
      set: { ...(unit && { topic: unit }), ...(settings.procedure && { procedure: settings.procedure }) },
      status: RED._(refused > 0 ? 'status.refused' : 'status.read', { count: payload.length, refused }),
      doubtful: refused > 0,
    };
  },
});

/** The unit that all runs are of. */
function onlyUnit(lib: Library, measurements: Measurement[]): string | undefined {
  const isSpecial = (label: string) => lib.isNoiseName(label) || lib.isCalibratorName(label);
  const isRun = ({ role, label }: Measurement) => role === 'response' || (role === 'capture' && !isSpecial(label));
  const units = new Set(measurements.filter(isRun).map(({ about }) => about.device));
  return units.size === 1 ? [...units][0] : undefined;
}
