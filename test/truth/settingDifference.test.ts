import { afterAll, describe, it } from 'vitest';
import { compareSettings } from '../../lib';
import { hingeBelow, settingDifferenceDb } from '../../lib/rig/settingTruth';
import { type Case, drawnRigs, openCase, snrOver } from './rigs';
import { Worst } from './worst';

const worst = new Worst();
const HINGE = 'hinge, %';
const ASYMPTOTE = 'low-frequency asymptote, dB';
const AT_10 = 'difference at 10 Hz, dB';
const AT_OTHERS = 'difference at 16, 20, 31.5 Hz, dB';
const UNTRUSTED = 'untrusted where SNR < 10 dB';

function check(c: Case): void {
  if (c.cleanRung < 0) return;
  const [b, a] = c.rig.settings;
  const difference = compareSettings(c.runWithNoise(1, c.cleanRung), c.runWithNoise(0, c.cleanRung), {
    atHz: [10, 16, 20, 31.5],
  });
  const where = `${c.name} (${JSON.stringify(a.equaliser)})`;
  const worstSnr = (hz: number[]) => Math.min(...[0, 1].flatMap((setting) => snrOver(c, setting, c.cleanRung, hz)));

  for (const { frequencyHz, differenceDb, trusted } of difference.at) {
    if (frequencyHz < 1.2 * c.rig.grid.startHz) continue;
    const snr = worstSnr([frequencyHz]);
    if (snr < 5) worst.must(UNTRUSTED, !trusted, `${where} at ${frequencyHz} Hz`);
    if (snr < 30) continue;
    const truth = settingDifferenceDb(a.equaliser, b.equaliser, frequencyHz);
    worst.add(frequencyHz === 10 ? AT_10 : AT_OTHERS, differenceDb - truth, 0.2, `${where} at ${frequencyHz} Hz`);
  }

  const hingeHz = a.equaliser.kind === 'shelf' ? a.equaliser.hz : Number.NaN;
  const lowHz = 0.25 * (Number.isNaN(hingeHz) ? 20 : hingeHz);
  const list = Array.from({ length: 60 }, (_, i) => lowHz * 2 ** (i / 12)).filter((hz) => hz < 150);
  if (c.rig.grid.startHz > lowHz || worstSnr(list) < 30) return;
  if (a.equaliser.kind !== 'shelf') return;
  const byAsymptote = difference.asymptoteDb !== null;
  if (byAsymptote) worst.add(ASYMPTOTE, difference.asymptoteDb! - a.equaliser.gainDb, 0.3, where);
  const truth = byAsymptote ? hingeHz : hingeBelow(a.equaliser, b.equaliser, c.rig.grid.startHz);
  worst.add(HINGE, 100 * ((difference.hingeHz ?? Number.NaN) / truth - 1), 2, where);
}

describe('the setting difference of drawn rigs', () => {
  for (const drawn of drawnRigs(40)) it(`is read from ${drawn.name}`, () => check(openCase(drawn)));

  it('has the hinge within 2 % and the difference at 10 Hz within 0.2 dB', () => {
    worst.hold(HINGE, 8);
    worst.hold(AT_10, 8);
    worst.hold(AT_OTHERS, 20);
  });

  afterAll(() => worst.print('Setting difference: worst errors against the truth of the drawn rigs'));
});
