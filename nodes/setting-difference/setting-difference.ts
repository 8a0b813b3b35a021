import type { Caveat } from '../../lib/model/caveat';
import { makeCaveat } from '../../lib/words/makeCaveat';
import { define } from '../define';
import { numbers, text } from '../fields';
import { groupBy } from '../groupBy';
import { maskFields, maskNotes, roomMasks } from '../judged';
import { chooseSettings } from './chooseSettings';

export = define({
  type: 'bassloom-setting-difference',
  settings: { ...maskFields, settingA: text(), settingB: text(), atHz: numbers() },
  run({ lib, settings, findings, curves, responses }) {
    const options = { masksHz: roomMasks(findings, settings), atHz: settings.atHz };
    const all = curves();
    const settingDifference = [];
    const notes: Caveat[] = maskNotes(findings, settings);
    for (const unit of groupBy(responses(), ['device'])) {
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
