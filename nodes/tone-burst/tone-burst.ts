import type { BurstSpec } from '../../lib';
import { define } from '../define';
import type { RedApi } from '../nodeRed';
import { writeSound } from '../writeSound';
import { fields } from './fields';
import { tellPlan } from './tellPlan';

const register = define({
  type: 'bassloom-tone-burst',
  settings: fields,
  async run({ lib, RED, signal, settings: { format, file, ...spec } }) {
    const stimulus = await lib.renderBursts(spec, { format, signal });
    const files = file ? [await writeSound(RED, file, stimulus, nameOf(spec, format))] : [];
    return {
      payload: [stimulus],
      set: { bursts: { seconds: stimulus.seconds, count: lib.planBursts(spec).bursts.length, files } },
      status: RED._(file ? 'status.written' : 'status.made', { seconds: stimulus.seconds.toFixed(0) }),
    };
  },
});

/** Name that tells these bursts from all others; the import node knows files called `stimulus…` as stimuli. */
function nameOf(spec: Required<BurstSpec>, format: string): string {
  const { fromHz, toHz, lowestDbfs, highestDbfs, stepDb, gapSeconds, sampleRateHz } = spec;
  const levels = `${lowestDbfs}to${highestDbfs}dBFS-by-${stepDb}dB`;
  return ['stimulus-bursts', `${fromHz}-${toHz}Hz`, levels, `gap-${gapSeconds}s`, `${sampleRateHz}Hz`, format].join(
    '_',
  );
}

export = (RED: RedApi): void => {
  register(RED);
  RED.httpAdmin.get('/bassloom/burst-plan', RED.auth.needsPermission('flows.read'), tellPlan(RED));
};
