import type { MaximumOutput } from '../../lib';
import type { Recording } from '../../lib/model/curve';
import { makeCaveat } from '../../lib/words/makeCaveat';
import { define } from '../define';
import { groupBy } from '../groupBy';
import { readCorrection } from '../readCorrection';
import { fields } from './fields';
import { findStimulus } from './findStimulus';

export = define({
  type: 'bassloom-maximum-output',
  kind: 'analysis',
  settings: fields,
  async run(work) {
    const { lib, RED, node, settings, measurements, signal } = work;
    const recordings = measurements().filter((one): one is Recording => one.kind === 'recording');
    const stimulus = await findStimulus(lib, RED, settings.stimulusFile, recordings);
    const { correction, notes } = await readCorrection(work);
    const captures = recordings.filter(({ role }) => role === 'capture');
    // what is much shorter than the bursts is of something else, such as a sweep
    const isLong = ({ seconds }: Recording) => seconds >= stimulus.seconds / 2;
    const groups = groupBy(captures.filter(isLong), ['device', 'setting']);
    const maximumOutput: MaximumOutput[] = [];
    for (const [i, group] of groups.entries()) {
      const isPlaced = group.some(({ about }) => about.distanceM !== undefined);
      const found = await lib.maximumOutput(group, stimulus, {
        limits: settings.limits,
        fullScaleDb: settings.fullScaleDb,
        measuredAtM: settings.measuredAtM ?? (isPlaced ? undefined : settings.procedure?.distanceM),
        place: settings.place,
        channel: settings.channel,
        correction,
        signal,
        onProgress: (share) => {
          const percent = Math.round((100 * (i + share)) / groups.length);
          node.status({ fill: 'blue', shape: 'ring', text: RED._('status.working', { percent }) });
        },
      });
      maximumOutput.push(found);
    }
    const short = captures.filter((capture) => !isLong(capture));
    const ofShort = short.map(({ id, label }) =>
      makeCaveat('output-capture-too-short', 'remark', { label }, { curve: id }),
    );
    const none = maximumOutput.length === 0 ? [makeCaveat('output-no-captures', 'remark', {})] : [];
    return {
      findings: { maximumOutput, notes: [...notes, ...ofShort, ...none] },
      status: lib.summariseMaximumOutput(maximumOutput),
      doubtful: maximumOutput.length === 0,
    };
  },
});
