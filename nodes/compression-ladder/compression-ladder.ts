import type { About, Curve } from '../../lib/model/curve';
import { makeCaveat } from '../../lib/words/makeCaveat';
import { define } from '../define';
import { choice, numbers } from '../fields';
import { groupBy } from '../groupBy';
import { judgeEach } from '../judgeEach';
import { setAside } from '../setAside';

export = define({
  type: 'bassloom-compression-ladder',
  kind: 'analysis',
  settings: {
    step: choice(['commanded', 'measured'], { otherwise: 'commanded' }),
    onsetsDb: numbers({ max: 60, otherwise: [1, 3] }),
  },
  run(work) {
    const { lib, settings, curves, responses } = work;
    const noise = curves().filter((curve) => curve.role === 'noise');
    const { kept, notes: aside } = setAside(work, 'compression-ladder', responses());
    const groups = groupBy(kept, ['device', 'setting']);
    const isLadder = (group: Curve[]) => new Set(group.map((curve) => curve.about.driveDb)).size > 1;
    const build = (group: Curve[]) => {
      const [{ about, scale }] = group;
      const isOwn = ({ device }: About) => device === undefined || device === about.device;
      const own = noise.filter((run) => isOwn(run.about) && run.scale === scale);
      return lib.buildLadder([...group, ...own], settings);
    };
    const ladders = groups.filter(isLadder);
    const { found: ladder, notes: left } = judgeEach(work, 'compression-ladder', ladders, labelsOf, build);
    const notes = groups
      .filter((group) => !isLadder(group))
      .map((group) => makeCaveat('ladder-too-few-drives', 'doubt', { runs: labelsOf(group) }));
    return {
      findings: { ladder, notes: [...aside, ...left, ...notes] },
      status: lib.summariseLadder(ladder),
    };
  },
});

function labelsOf(curves: Curve[]): string {
  const labels = curves.map((curve) => curve.label);
  return labels.length > 3 ? `${labels[0]} to ${labels[labels.length - 1]}` : labels.join(', ');
}
