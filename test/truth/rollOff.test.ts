import { afterAll, describe, it } from 'vitest';
import { fitRollOff } from '../../lib';
import { rollOffTruth } from '../../lib/rig/sessionTruth';
import { type Case, drawnRigs, openCase, snrOver, withoutPath } from './rigs';
import { Worst } from './worst';

const worst = new Worst();
const ORDER = 'order';
const SEALED_F0 = 'f0 of a sealed unit, %';
const SEALED_Q = 'Q of a sealed unit, %';
const VENTED_F0 = 'f0 of a vented unit, %';

/** From where the signal stands 20 dB above the noise all the way up, to where the upper low-pass takes 0.02 dB. */
function usableRange(c: Case): [number, number] {
  const { highPass, lowPass } = c.rig.unit;
  // Butterworth: 10 lg (1 + (f/fc)^2n) = 0.02 dB
  const highHz = lowPass.hz * (10 ** 0.002 - 1) ** (1 / (2 * lowPass.order));
  const frequencyHz = Array.from({ length: 400 }, (_, i) => c.rig.grid.startHz * 2 ** (i / 48)).filter(
    (f) => f < highHz,
  );
  const snr = snrOver(c, 0, c.cleanRung, frequencyHz);
  const lowest = frequencyHz.length - 1 - [...snr].reverse().findIndex((db) => db < 20);
  return [snr.some((db) => db < 20) ? frequencyHz[lowest] : frequencyHz[0], Math.min(highHz, 6 * highPass[0].f0Hz)];
}

function check(c: Case): void {
  const rollOff = rollOffTruth(c.rig);
  if (c.cleanRung < 0) return;
  const [lowHz, highHz] = usableRange(c);
  // the precondition: the corner itself is in sight, half an octave below it and an octave above
  if (lowHz > rollOff.f0Hz / Math.SQRT2 || highHz < 2 * rollOff.f0Hz) return;
  const curve = withoutPath(c, c.runWithNoise(0, c.cleanRung));
  const fit = fitRollOff(curve, { rangeHz: [lowHz, highHz] });
  const where = `${c.name} (f0 ${rollOff.f0Hz.toFixed(1)} Hz, Q ${rollOff.q?.toFixed(2) ?? '-'}, fitted ${lowHz.toFixed(1)}-${highHz.toFixed(0)} Hz, order ${fit.order})`;
  worst.must(ORDER, fit.order === rollOff.order, where);
  if (rollOff.q === null) {
    if (fit.order === 4) worst.add(VENTED_F0, 100 * (fit.f0Hz / rollOff.f0Hz - 1), 1, where);
    return;
  }
  worst.add(SEALED_F0, 100 * (fit.f0Hz / rollOff.f0Hz - 1), 1, where);
  worst.add(SEALED_Q, 100 * ((fit.q ?? Number.NaN) / rollOff.q - 1), 2, where);
}

describe('the roll-off of drawn rigs, the room divided out', () => {
  for (const drawn of drawnRigs(40)) it(`is read from ${drawn.name}`, () => check(openCase(drawn)));

  it('has f0 within 1 % and Q within 2 %', () => {
    worst.hold(ORDER, 10);
    worst.hold(SEALED_F0, 10);
    worst.hold(SEALED_Q, 10);
    worst.hold(VENTED_F0, 3);
  });

  afterAll(() => worst.print('Roll-off: worst errors against the truth of the drawn rigs'));
});
