import type { Curve } from '../../lib/model/curve';
import { define } from '../define';
import { flag, number } from '../fields';
import { judged, judgedFields, maskFields, maskNotes, rangeOf, roomMasks } from '../judged';
import { judgeEach } from '../judgeEach';

export = define({
  type: 'bassloom-roll-off',
  kind: 'analysis',
  settings: {
    ...judgedFields,
    ...maskFields,
    allowWeighted: flag(false),
    rangeLowHz: number({ above: 0, max: 100000 }),
    rangeHighHz: number({ above: 0, max: 100000 }),
  },
  run(work) {
    const { lib, settings, findings } = work;
    const options = {
      rangeHz: rangeOf(settings.rangeLowHz, settings.rangeHighHz),
      masksHz: roomMasks(findings, settings),
      allowWeighted: settings.allowWeighted,
    };
    const fit = (curve: Curve) => lib.fitRollOff(curve, options);
    const { found: rollOff, notes: left } = judgeEach(work, 'roll-off', judged(work), ({ label }) => label, fit);
    const notes = [...maskNotes(findings, settings), ...left];
    return { findings: { rollOff, notes }, status: lib.summariseRollOff(rollOff) };
  },
});
