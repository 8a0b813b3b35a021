import { define } from '../define';
import type { RedApi } from '../nodeRed';
import { writeSound } from '../writeSound';
import { fields } from './fields';
import { mutedFile, nameOf } from './names';
import { tellPlan } from './tellPlan';

const register = define({
  type: 'bassloom-sweep',
  settings: fields,
  async run({ lib, RED, signal, settings: { format, muted, file, ...spec } }) {
    const payload = await lib.renderSweep(spec, { format, muted, signal });
    const [sweep, twin] = payload;
    const files: string[] = [];
    if (file) files.push(await writeSound(RED, file, sweep, nameOf(spec, format)));
    if (file && muted) files.push(await writeSound(RED, mutedFile(file), twin, nameOf(spec, format, 'muted')));
    return {
      payload,
      set: { sweep: { seconds: sweep.seconds, files } },
      status: RED._(file ? 'status.written' : 'status.made', {
        seconds: sweep.seconds.toFixed(1),
        count: files.length,
      }),
    };
  },
});

export = (RED: RedApi): void => {
  register(RED);
  RED.httpAdmin.get('/bassloom/sweep-plan', RED.auth.needsPermission('flows.read'), tellPlan(RED));
};
