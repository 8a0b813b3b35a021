import type { Curve } from '../../lib/model/curve';
import { define, withCause } from '../define';
import { fields, textOptions } from './fields';
import { sourcesOf } from './sources';
import { checkName, stamp, whatNameSays } from './whatIsKnown';

export = define({
  type: 'bassloom-import',
  settings: fields,
  async run({ lib, RED, node, settings, message }) {
    const curves: Curve[] = [];
    const notes: string[] = [];
    let refused = 0;
    const common = { ...textOptions(settings), role: settings.role };
    for (const { name, read } of await sourcesOf(RED, settings, message)) {
      try {
        const options = { ...common, name, ...(!settings.role && whatNameSays(lib, name)) };
        if (settings.mustMatch) checkName(lib, name, options);
        const { curve, notes: own } = lib.importText(await read(), options);
        curves.push(stamp(curve, settings.procedure));
        notes.push(...own.map((note) => `${curve.label}: ${note}`));
      } catch (problem) {
        // Of several files, each bad one reaches Catch with its name, and the others go on.
        if (settings.source === 'payload') throw problem;
        node.error(withCause(problem), { ...message, filename: name });
        refused++;
      }
    }
    if (curves.length === 0) {
      if (refused > 0)
        node.status({ fill: 'red', shape: 'ring', text: RED._('status.refused', { count: 0, refused }) });
      return undefined;
    }
    const units = new Set(curves.filter(({ role }) => role === 'response').map(({ about }) => about.device));
    const [unit] = units;
    return {
      payload: curves,
      findings: { notes },
      set: {
        ...(units.size === 1 && unit && { topic: unit }),
        ...(settings.procedure && { procedure: settings.procedure }),
      },
      status: RED._(refused > 0 ? 'status.refused' : 'status.read', { count: curves.length, refused }),
      doubtful: refused > 0,
    };
  },
});
