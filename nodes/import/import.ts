import type { Caveat } from '../../lib/model/caveat';
import type { Measurement } from '../../lib/model/curve';
import { define, withCause } from '../define';
import { explainFileProblem } from '../fileProblem';
import type { RedApi } from '../nodeRed';
import { fields } from './fields';
import { readSource } from './readSource';
import { sourcesOf } from './sources';
import { tellDialog } from './tellDialog';
import { onlyUnit, openWatching } from './watching';

const register = define({
  type: 'bassloom-import',
  settings: fields,
  open: openWatching,
  async run({ lib, RED, node, settings, message, memory }) {
    if (settings.source === 'watch') {
      if (message.next === undefined) memory.look();
      else memory.pace.release(message.next);
      return undefined;
    }
    // freshly imported: not an error, but the next thing to do
    if (settings.source === 'files' && !settings.files) {
      return void node.status({ fill: 'yellow', shape: 'ring', text: RED._('status.choose') });
    }
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
    if (payload.length === 0 && refused === 0) return undefined;
    if (payload.length === 0) {
      return void node.status({ fill: 'red', shape: 'ring', text: RED._('status.refused', { count: 0, refused }) });
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

export = (RED: RedApi): void => {
  register(RED);
  tellDialog(RED);
};
