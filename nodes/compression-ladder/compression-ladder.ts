import type { Curve } from '../../lib/model/curve';
import { makeCaveat } from '../../lib/words/makeCaveat';
import { define } from '../define';
import { choice, numbers } from '../fields';
import { groupBy } from '../groupBy';

export = define({
  type: 'bassloom-compression-ladder',
  settings: {
    step: choice(['commanded', 'measured'], { otherwise: 'commanded' }),
    onsetsDb: numbers({ otherwise: [1, 3] }),
  },
  run({ lib, settings, curves, responses }) {
    const noise = curves().filter((curve) => curve.role === 'noise');
    const groups = groupBy(responses(), ['device', 'setting']);
    const isLadder = (group: Curve[]) => new Set(group.map((curve) => curve.about.driveDb)).size > 1;
    const ladder = groups.filter(isLadder).map((group) => {
      const { device } = group[0].about;
      const own = noise.filter((run) => run.about.device === undefined || run.about.device === device);
      return lib.buildLadder([...group, ...own], settings);
    });
    const notes = groups
      .filter((group) => !isLadder(group))
      .map((group) => makeCaveat('ladder-too-few-drives', 'doubt', { runs: labelsOf(group) }));
    return {
      findings: { ladder, notes },
      status: lib.summariseLadder(ladder),
    };
  },
});

function labelsOf(curves: Curve[]): string {
  const labels = curves.map((curve) => curve.label);
  return labels.length > 3 ? `${labels[0]} to ${labels[labels.length - 1]}` : labels.join(', ');
}
