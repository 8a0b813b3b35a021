import { define } from '../define';
import { number } from '../fields';
import { judged, judgedFields, maskFields, rangeOf, roomMasks } from '../judged';

export = define({
  type: 'bassloom-roll-off',
  settings: {
    ...judgedFields,
    ...maskFields,
    rangeLowHz: number({ above: 0 }),
    rangeHighHz: number({ above: 0 }),
  },
  run(work) {
    const { lib, settings, findings } = work;
    const options = {
      rangeHz: rangeOf(settings.rangeLowHz, settings.rangeHighHz),
      masksHz: roomMasks(findings, settings),
    };
    const rollOff = judged(work).map((curve) => lib.fitRollOff(curve, options));
    return { findings: { rollOff }, status: lib.summariseRollOff(rollOff) };
  },
});
