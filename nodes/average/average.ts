import { define } from '../define';
import { choice } from '../fields';
import { groupBy } from '../groupBy';

const groupings = {
  positions: ['device', 'setting', 'driveDb'],
  repeats: ['device', 'setting', 'driveDb', 'position'],
  all: [],
} as const;

export = define({
  type: 'bassloom-average',
  settings: {
    grouping: choice(['positions', 'repeats', 'all'], { otherwise: 'positions' }),
    averaging: choice(['power', 'decibel', 'vector'], { otherwise: 'power' }),
  },
  run({ lib, RED, settings: { grouping, averaging }, measurements, responses }) {
    const from = responses();
    const averages = groupBy(from, [...groupings[grouping]]).map((group) =>
      group.length > 1 ? lib.averageCurves(group, { method: averaging }) : group[0],
    );
    const others = measurements().filter((one) => one.kind !== 'curve' || one.role !== 'response');
    return {
      payload: [...averages, ...others],
      status: RED._('status.averaged', { from: from.length, to: averages.length }),
    };
  },
});
