import { afterAll, describe, it } from 'vitest';
import { fitRollOff, type RollOff } from '../../lib';
import { rollOffTruth } from '../../lib/rig/sessionTruth';
import { type Case, drawnRigs, openCase, quietRigs, snrOver, withoutPath } from './rigs';
import { Worst } from './worst';

const worst = new Worst();
const ORDER = 'order';
const SEALED_F0 = 'f0 of a sealed unit, %';
const SEALED_Q = 'Q of a sealed unit, %';
const VENTED_F0 = 'f0 of a vented unit, %';
const BY_ITSELF = ', range found by itself';

/** From where the signal stands so far above the noise all the way up, to where the upper low-pass takes 0.02 dB. */
function usableRange(c: Case, leastSnrDb: number): [number, number] {
  const { highPass, lowPass } = c.rig.unit;
  // Butterworth: 10 lg (1 + (f/fc)^2n) = 0.02 dB
  const highHz = lowPass.hz * (10 ** 0.002 - 1) ** (1 / (2 * lowPass.order));
  const frequencyHz = Array.from({ length: 400 }, (_, i) => c.rig.grid.startHz * 2 ** (i / 48)).filter(
    (f) => f < highHz,
  );
  const snr = snrOver(c, 0, c.cleanRung, frequencyHz);
  const lowest = frequencyHz.length - 1 - [...snr].reverse().findIndex((db) => db < leastSnrDb);
  return [
    snr.some((db) => db < leastSnrDb) ? frequencyHz[lowest] : frequencyHz[0],
    Math.min(highHz, 6 * highPass[0].f0Hz),
  ];
}

function check(c: Case): void {
  const truth = rollOffTruth(c.rig);
  if (c.cleanRung < 0) return;
  // the precondition: the corner is in sight from both sides; of a steep roll-off, with five unknowns, also its foot
  const sealed = truth.order === 2;
  const rangeHz = usableRange(c, sealed ? 20 : 30);
  const foot = sealed ? Math.SQRT2 : 2;
  if (rangeHz[0] > truth.f0Hz / foot || rangeHz[1] < 2 * truth.f0Hz) return;
  const curve = withoutPath(c, c.runWithNoise(0, c.cleanRung));
  compare(
    fitRollOff(curve, { rangeHz }),
    truth,
    '',
    `${c.name}, given ${rangeHz.map((hz) => hz.toFixed(1)).join('-')} Hz`,
  );
  compare(fitRollOff(curve), truth, BY_ITSELF, c.name);
}

function compare(fit: RollOff, truth: ReturnType<typeof rollOffTruth>, how: string, name: string): void {
  const where = `${name} (f0 ${truth.f0Hz.toFixed(1)} Hz, Q ${truth.q?.toFixed(2) ?? '-'}, order ${fit.order})`;
  worst.must(ORDER + how, fit.order === truth.order, where);
  if (fit.order !== truth.order) return;
  const f0Error = 100 * ((fit.f0Hz ?? Number.NaN) / truth.f0Hz - 1);
  worst.add((truth.q === null ? VENTED_F0 : SEALED_F0) + how, f0Error, 1, where);
  if (truth.q !== null) worst.add(SEALED_Q + how, 100 * ((fit.q ?? Number.NaN) / truth.q - 1), 2, where);
}

describe('the roll-off of drawn rigs, the room divided out', () => {
  for (const drawn of [...drawnRigs(), ...quietRigs()]) it(`is read from ${drawn.name}`, () => check(openCase(drawn)));

  it('has f0 within 1 % and Q within 2 %', () => {
    for (const how of ['', BY_ITSELF]) {
      worst.hold(ORDER + how, 15);
      worst.hold(SEALED_F0 + how, 10);
      worst.hold(SEALED_Q + how, 10);
      worst.hold(VENTED_F0 + how, 4);
    }
  });

  afterAll(() => worst.print('Roll-off: worst errors against the truth of the drawn rigs'));
});
