import type { Curve } from '../../lib/model/curve';
import { makeCaveat } from '../../lib/words/makeCaveat';
import { define } from '../define';
import { numbers } from '../fields';
import { groupBy } from '../groupBy';
import { judgeEach } from '../judgeEach';

export = define({
  type: 'bassloom-distortion',
  kind: 'analysis',
  settings: { percents: numbers({ max: 1000, otherwise: [3, 10] }) },
  run(work) {
    const { lib, settings, curves, responses } = work;
    const harmonics = curves().filter((curve) => curve.role === 'harmonic');
    const groups = groupBy([...responses(), ...harmonics], ['device', 'setting']);
    const isWhole = (group: Curve[]) => new Set(group.map((curve) => curve.role)).size > 1;
    const measure = (group: Curve[]) => lib.measureDistortion(group, settings);
    const whole = groups.filter(isWhole);
    const { found: distortion, notes: left } = judgeEach(work, 'distortion', whole, ([{ label }]) => label, measure);
    const notes = groups
      .filter((group) => !isWhole(group))
      .map(([{ id, label, role }]) => {
        const lacks = role === 'response' ? ('harmonics' as const) : ('response' as const);
        return makeCaveat('thd-not-measured', 'remark', { label, lacks }, { curve: id });
      });
    return {
      findings: { distortion, notes: [...left, ...notes] },
      status: lib.summariseDistortion(distortion),
      doubtful: distortion.length === 0,
    };
  },
});
