import { BassloomError } from '../../lib/model/errors';
import type { Deconvolution } from '../../lib/model/findings';
import { define, withCause } from '../define';
import { openBench } from './bench';
import { deconvolveAll, holdBack } from './deconvolveAll';
import { fields } from './fields';
import { findStimulus } from './findStimulus';
import { sortOut } from './sortOut';
import { tell } from './tell';

export = define({
  type: 'bassloom-deconvolve',
  settings: fields,
  atOnce: true,
  open: openBench,
  async run(work) {
    const { lib, RED, node, settings, message, measurements } = work;
    const { captures, noise, stimuli, rest } = sortOut(lib, measurements());
    const played = await findStimulus(work, stimuli);
    if (captures.length === 0) {
      const alone = noise.length > 0 ? 'status.noise' : 'status.none';
      const status = RED._(stimuli.length > 0 ? 'status.stimulus' : alone);
      if (rest.length > 0) return { payload: rest, status };
      node.status({ fill: 'grey', shape: 'ring', text: status });
      return undefined;
    }
    if (!played) {
      const names = captures.map(({ label }) => label).join(', ');
      const what = `It is not known what was played for ${names}: send the stimulus along or before, or name its file.`;
      throw new BassloomError('no-stimulus', what, { field: 'stimulus' });
    }
    const { found, refused, notes } = await deconvolveAll(work, captures, noise, played.stimulus);
    const isHeldBack = ({ quality }: Deconvolution) => settings.bad === 'holdBack' && quality.verdict === 'bad';
    for (const { quality } of found.filter(isHeldBack)) {
      const payload = captures.filter(({ id }) => id === quality.recording);
      node.error(withCause(holdBack(quality)), { ...message, payload, filename: quality.label });
    }
    const passed = found.filter((one) => !isHeldBack(one));
    const told = tell(RED, found, refused);
    const payload = [
      ...rest,
      ...passed.flatMap(({ response, harmonics, impulse }) => [
        response,
        ...harmonics,
        ...(settings.impulses ? [impulse] : []),
      ]),
    ];
    if (payload.length === 0) {
      node.status({ fill: 'red', shape: 'dot', text: told.status });
      return undefined;
    }
    return {
      payload,
      findings: { captureQuality: passed.map(({ quality }) => quality), notes: [...played.notes, ...notes] },
      set: { ...(settings.procedure && { procedure: settings.procedure }) },
      ...told,
    };
  },
});
