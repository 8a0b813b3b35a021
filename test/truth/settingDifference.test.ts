import { afterAll, describe, it } from 'vitest';
import { compareSettings } from '../../lib';
import type { Equaliser } from '../../lib/rig/rigSpec';
import { hingeBelow, settingDifferenceDb, settingTruth } from '../../lib/rig/settingTruth';
import { type Case, drawnRigs, openCase, quietRigs, snrOver } from './rigs';
import { Worst } from './worst';

const worst = new Worst();
const HINGE = 'hinge, %';
const GENTLE_HINGE = 'hinge, %, uncertain by more';
const ASYMPTOTE = 'low-frequency asymptote, dB';
const AT_10 = 'difference at 10 Hz, dB';
const AT_OTHERS = 'difference at 16, 20, 31.5 Hz, dB';
const UNTRUSTED = 'untrusted where SNR < 10 dB';

function nameOf(equaliser: Equaliser): string {
  if (equaliser.kind === 'flat') return 'flat';
  if (equaliser.kind === 'chain') return equaliser.stages.map(nameOf).join(', ');
  if (equaliser.kind === 'high-pass') return `high-pass ${equaliser.f0Hz.toFixed(1)} Hz`;
  return `shelf ${equaliser.hz.toFixed(1)} Hz ${equaliser.gainDb.toFixed(1)} dB order ${equaliser.order}`;
}

function check(c: Case): void {
  if (c.cleanRung < 0) return;
  const [b, a] = c.rig.settings;
  const difference = compareSettings(c.runWithNoise(1, c.cleanRung), c.runWithNoise(0, c.cleanRung), {
    atHz: [10, 16, 20, 31.5],
  });
  const where = `${c.name} (${nameOf(a.equaliser)})`;
  const worstSnr = (hz: number[]) => Math.min(...[0, 1].flatMap((setting) => snrOver(c, setting, c.cleanRung, hz)));

  for (const { frequencyHz, differenceDb, trusted } of difference.at) {
    if (frequencyHz < 1.2 * c.rig.grid.startHz) continue;
    const snr = worstSnr([frequencyHz]);
    if (snr < 5) worst.must(UNTRUSTED, !trusted, `${where} at ${frequencyHz} Hz`);
    if (snr < 30) continue;
    const truth = settingDifferenceDb(a.equaliser, b.equaliser, frequencyHz);
    worst.add(frequencyHz === 10 ? AT_10 : AT_OTHERS, differenceDb - truth, 0.2, `${where} at ${frequencyHz} Hz`);
  }

  const { hingeHz, asymptoteDb } = settingTruth(a, b);
  if (hingeHz === null || asymptoteDb === null) return; // a high-pass has none
  const list = Array.from({ length: 60 }, (_, i) => 0.25 * hingeHz * 2 ** (i / 12)).filter((hz) => hz < 150);
  if (c.rig.grid.startHz > list[0] || worstSnr(list) < 30) return;
  const byAsymptote = difference.asymptoteDb !== null;
  if (byAsymptote) worst.add(ASYMPTOTE, difference.asymptoteDb! - asymptoteDb, 0.3, where);
  const truth = byAsymptote ? hingeHz : hingeBelow(a.equaliser, b.equaliser, c.rig.grid.startHz);
  // smooth scatter of the two runs moves a gentle hinge: by its size over the slope there, in octaves
  const slope =
    settingDifferenceDb(a.equaliser, b.equaliser, hingeHz / 1.1) -
    settingDifferenceDb(a.equaliser, b.equaliser, hingeHz * 1.1);
  const octaves = (Math.SQRT2 * c.rig.scatter.shapeDb * 2 * Math.log2(1.1)) / Math.abs(slope);
  const knowable = 100 * (2 ** (3 * octaves) - 1);
  const error = 100 * ((difference.hingeHz ?? Number.NaN) / truth - 1);
  if (knowable <= 2) worst.add(HINGE, error, 2, where);
  else worst.add(GENTLE_HINGE, error, knowable, where);
}

describe('the setting difference of drawn rigs', () => {
  for (const drawn of [...drawnRigs(), ...quietRigs()]) it(`is read from ${drawn.name}`, () => check(openCase(drawn)));

  it('has the hinge within 2 % and the difference at 10 Hz within 0.2 dB', () => {
    worst.hold(HINGE, 8);
    worst.hold(AT_10, 8);
    worst.hold(AT_OTHERS, 20);
  });

  afterAll(() => worst.print('Setting difference: worst errors against the truth of the drawn rigs'));
});
