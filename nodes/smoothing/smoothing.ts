import { procedure } from '../configs';
import { define } from '../define';
import { number } from '../fields';

export = define({
  type: 'bassloom-smoothing',
  settings: { procedure, fraction: number({ min: 1, max: 96, otherwise: 12, procedure: 'smoothing' }) },
  run({ lib, RED, settings: { fraction }, measurements }) {
    const payload = measurements().map((measurement) =>
      measurement.kind === 'curve' && measurement.role !== 'correction'
        ? lib.smooth(measurement, { fraction })
        : measurement,
    );
    return { payload, status: RED._('status.smoothed', { count: payload.length, fraction }) };
  },
});
