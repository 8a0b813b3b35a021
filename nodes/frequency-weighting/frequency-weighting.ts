import { define } from '../define';
import { choice } from '../fields';

export = define({
  type: 'bassloom-frequency-weighting',
  settings: { weighting: choice(['A', 'C', 'Z'], { otherwise: 'A' }) },
  run({ lib, RED, settings: { weighting }, measurements }) {
    const payload = measurements();
    const weighted = payload.map((one) =>
      one.kind === 'curve' && (one.role === 'response' || one.role === 'noise') ? lib.weightCurve(one, weighting) : one,
    );
    const count = weighted.filter((one, i) => one !== payload[i]).length;
    return {
      payload: weighted,
      status: RED._('status.weighted', { count, weighting }),
      doubtful: count === 0,
    };
  },
});
