import { define } from '../define';
import { chooseRig } from './chooseRig';
import { fields } from './fields';
import { planRuns } from './planRuns';
import { watchProgress } from './watchProgress';

export = define({
  type: 'bassloom-virtual-rig',
  settings: fields,
  async run({ lib, RED, node, settings, measurements, signal }) {
    const given = measurements();
    const rig = chooseRig(lib, settings);
    const plays = planRuns(lib, rig, given, settings);
    const recorded = watchProgress(node, RED, plays.length);
    const played = await Promise.all(
      plays.map(async ({ stimulus, run }) => {
        const { capture, facts } = await lib.playThroughRig(rig, stimulus, run, { signal });
        recorded();
        return { capture, truth: { capture: capture.id, label: capture.label, ...facts } };
      }),
    );
    const correction = settings.giveCorrection ? lib.setUpBench(rig).correction() : undefined;
    const { fullScaleDb } = played[0].truth;
    return {
      payload: [...given, ...played.map(({ capture }) => capture)],
      set: {
        topic: rig.unit.device,
        truth: { rig, runs: played.map(({ truth }) => truth) },
        fullScaleDb,
        ...(correction && { correction }),
      },
      status: RED._('status.recorded', { count: played.length }),
    };
  },
});
