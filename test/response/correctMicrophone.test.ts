import { describe, expect, it } from 'vitest';
import { makeCurve } from '../../lib/model/makeCurve';
import { correctMicrophone } from '../../lib/response/correctMicrophone';

const microphone = makeCurve({
  frequencyHz: [10, 40],
  levelDb: [-6, 0],
  phaseDeg: [90, 0],
  role: 'correction',
  label: 'capsule 7',
});

describe('correcting for the microphone', () => {
  it('subtracts its level, linear in log frequency, from level and noise alike', () => {
    const curve = makeCurve({ frequencyHz: [10, 20, 40], levelDb: [80, 80, 80], noiseDb: [40, 40, 40] });
    const got = correctMicrophone(curve, microphone);
    expect(got.levelDb.map((l) => Number(l.toFixed(9)))).toEqual([86, 83, 80]);
    expect(got.noiseDb!.map((l) => Number(l.toFixed(9)))).toEqual([46, 43, 40]);
    expect(got.steps).toEqual([{ did: 'microphone correction', with: { correction: 'capsule 7', id: microphone.id } }]);
    expect(curve.levelDb).toEqual([80, 80, 80]);
  });

  it('subtracts its phase where both have one', () => {
    const curve = makeCurve({ frequencyHz: [10, 20, 40], levelDb: [0, 0, 0], phaseDeg: [-100, 0, 0] });
    const { phaseDeg } = correctMicrophone(curve, microphone);
    expect(phaseDeg!.map((p) => Number(p.toFixed(9)))).toEqual([170, -45, 0]);
    const { phaseDeg: untouched } = correctMicrophone(curve, { ...microphone, phaseDeg: undefined });
    expect(untouched).toEqual([-100, 0, 0]);
  });

  it('holds the end values beyond the correction and names the ranges', () => {
    const curve = makeCurve({ frequencyHz: [5, 10, 40, 80], levelDb: [80, 80, 80, 80] });
    const got = correctMicrophone(curve, microphone);
    expect(got.levelDb).toEqual([86, 86, 80, 80]);
    expect(got.steps[0].with.extrapolatedHz).toEqual([
      [5, 10],
      [40, 80],
    ]);
  });

  it('refuses to do it twice', () => {
    const curve = makeCurve({ frequencyHz: [10, 40], levelDb: [80, 80] });
    const once = correctMicrophone(curve, microphone);
    expect(() => correctMicrophone(once, microphone)).toThrowError(
      expect.objectContaining({ code: 'already-corrected' }),
    );
  });
});
