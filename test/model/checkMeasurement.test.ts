import { describe, expect, it } from 'vitest';
import { checkFindings } from '../../lib/model/checkFindings';
import { checkMeasurement } from '../../lib/model/checkMeasurement';
import { makeCurve } from '../../lib/model/makeCurve';

const curve = makeCurve({
  frequencyHz: [10, 20, 40],
  levelDb: [70, 80, 81],
  noiseDb: [20, 20, 20],
  label: 'unit flat step 2',
  about: { device: 'unit', driveDb: 3 },
  steps: [{ did: 'own: offset', with: { db: 1 } }],
});
const recording = {
  ...{ kind: 'recording', role: 'capture', id: 'x', label: 'take', wav: new Uint8Array(4) },
  ...{ sampleRateHz: 48000, channels: 1, seconds: 2, about: {}, steps: [] },
};
const check = (value: unknown) => checkMeasurement(value, 'msg.payload[3]');

describe('the check of a measurement', () => {
  it('lets sound ones pass as they are, with what it does not know', () => {
    const own = { ...curve, mine: 1, about: { ...curve.about, colour: 'red' } };
    expect(check(own)).toBe(own);
    expect(check(recording)).toBe(recording);
  });

  it.each([
    [{ levelDb: [70, null, 81] }, 'not-a-number', 'levelDb', 1],
    [{ levelDb: [70, 80, '81'] }, 'not-a-number', 'levelDb', 2],
    // a hole
    [{ levelDb: new Array(3) }, 'not-a-number', 'levelDb', 0],
    [{ noiseDb: [20, Number.NaN, 20] }, 'not-a-number', 'noiseDb', 1],
    [{ phaseDeg: [0, 0, Number.POSITIVE_INFINITY] }, 'not-a-number', 'phaseDeg', 2],
    [{ frequencyHz: [10, undefined, 40] }, 'not-a-number', 'frequencyHz', 1],
    [{ frequencyHz: [40, 20, 10] }, 'frequency-not-rising', 'frequencyHz', 1],
    [{ frequencyHz: [10, 20, 20] }, 'frequency-not-rising', 'frequencyHz', 2],
    [{ frequencyHz: [0, 20, 40] }, 'frequency-not-rising', 'frequencyHz', 0],
    [{ levelDb: [70, 80] }, 'unequal-columns', 'levelDb', undefined],
    [{ noiseDb: [20, 20, 20, 20] }, 'unequal-columns', 'noiseDb', undefined],
    [{ levelDb: undefined }, 'not-an-array', 'levelDb', undefined],
    [{ levelDb: new Float64Array(3) }, 'not-an-array', 'levelDb', undefined],
    [{ frequencyHz: [], levelDb: [], noiseDb: [] }, 'empty-curve', 'frequencyHz', undefined],
    [{ role: 'loud' }, 'bad-measurement', 'role', undefined],
    [{ scale: undefined }, 'bad-measurement', 'scale', undefined],
    [{ role: 'harmonic' }, 'bad-measurement', 'order', undefined],
    [{ about: { driveDb: '3' } }, 'bad-measurement', 'about.driveDb', undefined],
    [{ about: { setting: null } }, 'bad-measurement', 'about.setting', undefined],
    [{ steps: ['averaged'] }, 'bad-measurement', 'steps[0]', undefined],
    [
      { steps: [{ did: 'smooth', with: { fraction: 'fine' } }] },
      'bad-measurement',
      'steps[0].with.fraction',
      undefined,
    ],
  ])('names measurement, field and place of %j', (change, code, field, index) => {
    let problem: unknown;
    try {
      check({ ...curve, ...change });
    } catch (thrown) {
      problem = thrown;
    }
    expect(problem).toMatchObject({ code, field, measurement: 'unit flat step 2' });
    expect(problem).toHaveProperty('message', expect.stringContaining('msg.payload[3] (unit flat step 2)'));
    expect((problem as { index?: number }).index).toBe(index);
  });

  it.each([
    [{ wav: { type: 'Buffer', data: [1] } }, 'wav'],
    [{ sampleRateHz: 0 }, 'sampleRateHz'],
    [{ channels: 1.5 }, 'channels'],
  ])('names the field of a recording: %j', (change, field) => {
    expect(() => check({ ...recording, ...change })).toThrow(
      expect.objectContaining({ code: 'bad-measurement', field, measurement: 'take' }),
    );
  });

  it.each([[null], [undefined], ['text'], [{ kind: 'picture' }], [[curve]]])('refuses what is none: %j', (value) => {
    expect(() => check(value)).toThrow(expect.objectContaining({ code: 'not-measurements', field: 'payload' }));
  });
});

describe('the check of findings', () => {
  const row = [80, 81];
  const ladder = {
    ...{ caveats: [], scale: 'spl', bandsHz: [40, 50], snrFrom: 'unknown', onset: [], stepUsed: 'commanded' },
    rungs: [
      { id: 'a', label: 'a', driveDb: 0 },
      { id: 'b', label: 'b', driveDb: 3 },
    ],
    ...{ levelDb: [row, row], compressionDb: [row, row], snrDb: [row, row], referenceRung: [0, null] },
    trusted: [
      [true, true],
      [true, true],
    ],
    ceiling: { levelDb: row, reached: [true, false] },
    step: { commandedDb: 3, measuredDb: null, uncertaintyDb: null, differs: null },
    ...{
      repeatScatterDb: null,
      runGainDb: [0, 0],
      breaks: [],
      commonLossDb: [null, null],
      extent: 'none',
      regions: [],
    },
  };

  it('lets sound ones pass, with what a flow of its own has put there', () => {
    const findings = { ladder: [ladder], mine: 'own' };
    expect(checkFindings(findings)).toBe(findings);
  });

  it.each([
    ['some', 'findings', 'not-findings'],
    [{ ladder: 'high' }, 'ladder', 'bad-findings'],
    [{ notes: ['odd'] }, 'notes[0]', 'bad-findings'],
    [{ ladder: [{ ...ladder, levelDb: [row] }] }, 'ladder[0].levelDb', 'unequal-findings'],
    [{ ladder: [{ ...ladder, snrDb: [row, [80]] }] }, 'ladder[0].snrDb[1]', 'unequal-findings'],
    [{ ladder: [{ ...ladder, bandsHz: [40, -50] }] }, 'ladder[0].bandsHz[1]', 'bad-findings'],
  ])('names the field of %j', (value, field, code) => {
    expect(() => checkFindings(value)).toThrow(expect.objectContaining({ code, field }));
  });
});
