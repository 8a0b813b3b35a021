import type { Curve } from '../../lib/model/curve';
import { procedure } from '../configs';
import { define } from '../define';
import { choice, flag, number } from '../fields';
import { judged, judgedFields, maskFields, maskNotes, rangeOf, roomMasks } from '../judged';
import { judgeEach } from '../judgeEach';

export = define({
  type: 'bassloom-band-fit',
  kind: 'analysis',
  settings: {
    procedure,
    ...judgedFields,
    ...maskFields,
    allowWeighted: flag(false),
    heightDb: number({ above: 0, max: 60, otherwise: 5, procedure: 'windowHeightDb' }),
    smoothing: number({ min: 0, max: 96, otherwise: 12, procedure: 'smoothing' }),
    rangeLowHz: number({ above: 0, max: 100000 }),
    rangeHighHz: number({ above: 0, max: 100000 }),
    reference: choice(['band', 'maximum'], { otherwise: 'band' }),
    referenceLowHz: number({ above: 0, max: 100000, otherwise: 40, procedure: 'referenceLowHz' }),
    referenceHighHz: number({ above: 0, max: 100000, otherwise: 80, procedure: 'referenceHighHz' }),
  },
  run(work) {
    const { lib, settings, findings } = work;
    const options = {
      heightDb: settings.heightDb,
      rangeHz: rangeOf(settings.rangeLowHz, settings.rangeHighHz),
      masksHz: roomMasks(findings, settings),
      smoothing: settings.smoothing === 0 ? null : settings.smoothing,
      reference: settings.reference,
      allowWeighted: settings.allowWeighted,
      referenceBandHz: rangeOf(settings.referenceLowHz, settings.referenceHighHz),
    };
    const fit = (curve: Curve) => lib.fitBand(curve, options);
    const { found: bandFit, notes: left } = judgeEach(work, 'band-fit', judged(work), ({ label }) => label, fit);
    const notes = [...maskNotes(findings, settings), ...left];
    return { findings: { bandFit, notes }, status: lib.summariseBandFit(bandFit, findings) };
  },
});
