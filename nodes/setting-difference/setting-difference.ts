import type { Caveat } from '../../lib/model/caveat';
import { makeCaveat } from '../../lib/words/makeCaveat';
import { define } from '../define';
import { numbers, text } from '../fields';
import { groupBy } from '../groupBy';
import { maskFields, maskNotes, roomMasks } from '../judged';
import { setAside } from '../setAside';
import { chooseSettings } from './chooseSettings';

export = define({
  type: 'bassloom-setting-difference',
  kind: 'analysis',
  settings: { ...maskFields, settingA: text(), settingB: text(), atHz: numbers({ max: 100000 }) },
  run(work) {
    const { lib, settings, findings, curves, responses } = work;
    const options = { masksHz: roomMasks(findings, settings), atHz: settings.atHz };
    const { kept, notes: aside } = setAside(work, 'setting-difference', responses());
    const all = curves().filter((curve) => curve.role !== 'response' || kept.includes(curve));
    const settingDifference = [];
    const notes: Caveat[] = [...maskNotes(findings, settings), ...aside];
    for (const unit of groupBy(kept, ['device'])) {
      const device = unit[0].about.device ?? null;
      const where = device === null ? undefined : { device };
      const chosen = chooseSettings(groupBy(unit, ['setting']), settings.settingA, settings.settingB);
      const pair = chosen && lib.referencePair(...chosen, all, findings.ladder);
      if (pair) {
        const ladders = pair.flatMap(({ about }) => lib.ladderOf(about, all, findings.ladder ?? []) ?? []);
        settingDifference.push(lib.compareSettings(...pair, { ...options, ladders }));
      } else {
        notes.push(makeCaveat(chosen ? 'setting-no-common-position' : 'setting-only-one', 'remark', { device }, where));
      }
    }
    return {
      findings: { settingDifference, notes },
      status: lib.summariseSettingDifference(settingDifference),
    };
  },
});
