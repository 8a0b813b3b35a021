import { define } from '../define';
import { flag, number } from '../fields';
import { judged, judgedFields, maskFields, maskNotes, rangeOf, roomMasks } from '../judged';

export = define({
  type: 'bassloom-roll-off',
  settings: {
    ...judgedFields,
    ...maskFields,
    allowWeighted: flag(false),
    rangeLowHz: number({ above: 0 }),
    rangeHighHz: number({ above: 0 }),
  },
  run(work) {
    const { lib, settings, findings } = work;
    const options = {
      rangeHz: rangeOf(settings.rangeLowHz, settings.rangeHighHz),
      masksHz: roomMasks(findings, settings),
      allowWeighted: settings.allowWeighted,
    };
    const rollOff = judged(work).map((curve) => lib.fitRollOff(curve, options));
    const notes = maskNotes(findings, settings);
    return { findings: { rollOff, notes }, status: lib.summariseRollOff(rollOff) };
  },
});
