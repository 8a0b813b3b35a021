import { expect, it } from 'vitest';
import { averageCurves, type Curve, makeCurve, type Step, smooth, stepsOf, weightCurve } from '../../lib';
import { stepTable } from '../../lib/report/html/stepTable';
import { captureOf, captureWarnings } from '../../lib/response/captureWarnings';
import { reportWords } from '../../lib/words/reportWords';

const frequencyHz = Array.from({ length: 50 }, (_, i) => 10 * 2 ** (i / 12));
const curve = makeCurve({ frequencyHz, levelDb: frequencyHz.map(() => 80) });

it('finds steps by their name, with their settings', () => {
  expect(stepsOf(smooth(smooth(curve, { fraction: 12 }), { fraction: 6 }), 'smooth')).toEqual([
    { did: 'smooth', with: { fraction: 12 } },
    { did: 'smooth', with: { fraction: 6 } },
  ]);
  expect(stepsOf(curve, 'smooth')).toEqual([]);
});

it('passes over what Function nodes write, whatever it looks like', () => {
  const strange = [{ did: 'shift by hand' }, { did: 'deconvolve' }, { did: 'smooth', with: null }, {}];
  const foreign: Curve = { ...curve, steps: [...strange, { did: 'mine', with: { db: 3 } }] as unknown as Step[] };
  expect(captureOf(foreign)).toBeUndefined();
  expect(captureWarnings(foreign)).toEqual([]);
  expect(weightCurve(averageCurves([foreign, curve]), 'A').steps.map(({ did }) => did)).toEqual([
    'average',
    'frequency weighting',
  ]);
  expect(stepTable([foreign], reportWords())).toMatch(/mine/i);
});
