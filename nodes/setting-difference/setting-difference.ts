import { asCaveats } from '../../lib/words/makeCaveat';
import { define } from '../define';
import { numbers, text } from '../fields';
import { groupBy } from '../groupBy';
import { isDoubtful, maskFields, roomMasks } from '../judged';
import { chooseSettings } from './chooseSettings';

export = define({
  type: 'bassloom-setting-difference',
  settings: { ...maskFields, settingA: text(), settingB: text(), atHz: numbers() },
  run({ lib, settings, findings, curves, responses }) {
    const options = { masksHz: roomMasks(findings, settings), atHz: settings.atHz };
    const all = curves();
    const settingDifference = [];
    const notes: string[] = [];
    for (const unit of groupBy(responses(), ['device'])) {
      const name = unit[0].about.device ?? 'the unit';
      const chosen = chooseSettings(groupBy(unit, ['setting']), settings.settingA, settings.settingB);
      const pair = chosen && lib.referencePair(...chosen, all, findings.ladder);
      if (pair) settingDifference.push(lib.compareSettings(...pair, options));
      else if (chosen) notes.push(`No setting difference of ${name}: the settings have no position in common.`);
      else notes.push(`No setting difference of ${name}: it was measured in one setting only.`);
    }
    return {
      findings: { settingDifference, notes: asCaveats(notes) },
      status: lib.summariseSettingDifference(settingDifference),
      doubtful: notes.length > 0 || isDoubtful(settingDifference),
    };
  },
});
