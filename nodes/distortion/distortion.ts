import type { Curve } from '../../lib/model/curve';
import { makeCaveat } from '../../lib/words/makeCaveat';
import { define } from '../define';
import { numbers } from '../fields';
import { groupBy } from '../groupBy';

export = define({
  type: 'bassloom-distortion',
  settings: { percents: numbers({ otherwise: [3, 10] }) },
  run({ lib, settings, curves, responses }) {
    const harmonics = curves().filter((curve) => curve.role === 'harmonic');
    const groups = groupBy([...responses(), ...harmonics], ['device', 'setting']);
    const isWhole = (group: Curve[]) => new Set(group.map((curve) => curve.role)).size > 1;
    const distortion = groups.filter(isWhole).map((group) => lib.measureDistortion(group, settings));
    const notes = groups
      .filter((group) => !isWhole(group))
      .map(([{ id, label, role }]) => {
        const lacks = role === 'response' ? ('harmonics' as const) : ('response' as const);
        return makeCaveat('thd-not-measured', 'remark', { label, lacks }, { curve: id });
      });
    return {
      findings: { distortion, notes },
      status: lib.summariseDistortion(distortion),
      doubtful: distortion.length === 0,
    };
  },
});
