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
  run({ lib, RED, settings: { grouping, averaging }, measurements, curves, responses }) {
    const from = responses();
    const harmonics = curves().filter((curve) => curve.role === 'harmonic');
    const orders = [...new Set(harmonics.map((curve) => curve.order))].map((order) =>
      harmonics.filter((curve) => curve.order === order),
    );
    const [averages, ...overtones] = [from, ...orders].map((alike) =>
      groupBy(alike, [...groupings[grouping]]).map((group) => {
        // the harmonics' phase says nothing of their delay, and most have none
        const method = averaging === 'vector' && group[0].role === 'harmonic' ? 'power' : averaging;
        return group.length > 1 ? lib.averageCurves(group, { method }) : group[0];
      }),
    );
    const others = measurements().filter(
      (one) => one.kind !== 'curve' || (one.role !== 'response' && one.role !== 'harmonic'),
    );
    return {
      payload: [...averages, ...overtones.flat(), ...others],
      status: RED._('status.averaged', { from: from.length, to: averages.length }),
    };
  },
});
