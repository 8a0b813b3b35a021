import { expect, test } from 'vitest';
import { measureDistortion } from '../../lib';
import type { Caveat } from '../../lib/model/caveat';
import type { About, Curve } from '../../lib/model/curve';
import { deconvolved } from '../deconvolved';
import { nodeFile, response, useNodeRed } from './bench';

const { deploy } = useNodeRed();
const files = [nodeFile('distortion')];
const type = 'bassloom-distortion';

/** A response and its second harmonic, so many % of it. */
const run = (setting: string, driveDb: number, percent: number, noiseDb = -90): Curve[] => {
  const about: About = { device: 'a', setting, driveDb };
  const steps = [deconvolved(`${setting} ${driveDb}`)];
  const ratio = 20 * Math.log10(percent / 100);
  const quiet = { steps, noiseDb: new Array(121).fill(noiseDb) };
  const orders = [2, 3, 4, 5].map((order) =>
    response(() => (order === 2 ? ratio : ratio - 20), about, { ...quiet, role: 'harmonic', order }),
  );
  return [response(() => 90 + driveDb, about, { ...quiet, label: `${setting} ${driveDb}` }), ...orders];
};
const flat = [...run('flat', 0, 1), ...run('flat', 3, 2), ...run('flat', 6, 8)];
const deep = [...run('deep', 0, 2), ...run('deep', 3, 4)];

test('distortion is measured of each unit and setting, and the measurements are left alone', async () => {
  const { give, lastStatus } = await deploy(files, { type, percents: '' });
  const { sent } = await give({ payload: [...flat, ...deep], other: 1, topic: 'a' });
  expect(sent[0].findings).toEqual({
    distortion: [measureDistortion(flat, { percents: [3, 10] }), measureDistortion(deep, { percents: [3, 10] })],
    notes: [],
  });
  expect(sent[0]).toMatchObject({ payload: [...flat, ...deep], other: 1, topic: 'a' });
  expect(lastStatus()).toMatchObject({
    fill: 'green',
    text: expect.stringMatching(/^2 settings, 3 % at \d+(\.\d)? Hz \+2 dB$/),
  });
});

test('percentages come from dialog or message, and bad ones are refused', async () => {
  const { give } = await deploy(files, { type, percents: '' });
  const percentsOf = async (message: object) =>
    (await give({ payload: flat, ...message })).sent[0].findings.distortion[0].passes.map(
      ({ percent }: { percent: number }) => percent,
    );
  expect(await percentsOf({ percents: [5] })).toEqual([5]);
  expect(await percentsOf({ percents: '1; 2' })).toEqual([1, 2]);
  expect((await give({ payload: flat, percents: 'much' })).caught[0].error.code).toBe('bad-setting');
  const fixed = await deploy(files, { type, percents: '4, 8' });
  const { sent } = await fixed.give({ payload: flat, percents: [5] });
  expect(sent[0].findings.distortion).toEqual([measureDistortion(flat, { percents: [4, 8] })]);
});

test('a second measurement of the same setting takes the place of the first', async () => {
  const { give } = await deploy(files, { type });
  const [first] = (await give({ payload: [...flat, ...deep] })).sent;
  const [second] = (await give({ ...first, payload: flat.slice(0, 10) })).sent;
  expect(second.findings.distortion.map(({ rungs }: { rungs: unknown[] }) => rungs.length)).toEqual([2, 2]);
});

test('runs without harmonics, and harmonics without responses, pass, and it is said', async () => {
  const { give, lastStatus } = await deploy(files, { type });
  const orphans = deep.filter((curve) => curve.role === 'harmonic');
  const { sent, caught } = await give({ payload: [flat[0], ...orphans] });
  expect(caught).toEqual([]);
  expect(sent[0].findings.distortion).toEqual([]);
  expect(sent[0].findings.notes).toMatchObject([
    { code: 'thd-not-measured', values: { label: 'flat 0', lacks: 'harmonics' } },
    { code: 'thd-not-measured', values: { label: 'a deep 0', lacks: 'response' } },
  ]);
  expect(lastStatus()).toMatchObject({ fill: 'yellow' });
});

test('what noise hides is no doubt, but a bad capture turns the status yellow', async () => {
  const { give, lastStatus } = await deploy(files, { type });
  await give({ payload: run('flat', 0, 1, -41) });
  expect(lastStatus()).toMatchObject({ fill: 'green' });
  const clipped: Caveat = { code: 'clipped', severity: 'warning', values: {}, message: 'It clipped.' };
  const bad = run('flat', 0, 1).map((curve) => ({
    ...curve,
    steps: [deconvolved('x', { verdict: 'bad', warnings: [clipped] })],
  }));
  const { sent } = await give({ payload: bad });
  expect(sent[0].findings.distortion[0].caveats[0]).toMatchObject({ code: 'capture-not-good' });
  expect(lastStatus()).toMatchObject({ fill: 'yellow' });
});

test('noise runs alone, and what is no measurement, are refused once', async () => {
  const { give } = await deploy(files, { type });
  for (const [payload, code] of [
    [[response(() => 20, {}, { role: 'noise' })], 'no-responses'],
    ['text', 'not-measurements'],
  ] as const) {
    const { sent, caught, completed } = await give({ payload });
    expect([sent.length, caught.length, completed.length]).toEqual([0, 1, 0]);
    expect(caught[0].error.code).toBe(code);
  }
});

test('averaged runs keep their harmonics, order by order, and can be measured', async () => {
  const average = await deploy([nodeFile('average')], { type: 'bassloom-average', averaging: 'vector' });
  const at = (curves: Curve[], position: string) =>
    curves.map((curve) => ({
      ...curve,
      phaseDeg: curve.frequencyHz.map(() => 0),
      about: { ...curve.about, position },
      steps: [{ did: 'deconvolve', with: { ...curve.steps[0].with, capture: `${curve.label} ${position}` } }],
    }));
  const { sent } = await average.give({
    payload: [...at(run('flat', 0, 1), 'left'), ...at(run('flat', 0, 1.1), 'right')],
  });
  const { payload } = sent[0];
  expect(payload.map(({ role, order }: Curve) => [role, order])).toEqual([
    ['response', undefined],
    ...[2, 3, 4, 5].map((order) => ['harmonic', order]),
  ]);
  const { give } = await deploy(files, { type });
  const [{ findings }] = (await give({ payload })).sent;
  // by hand: root of the mean square of 1 % and 1.1 %, three more orders 20 dB below
  expect(findings.distortion[0].thdPercent[0][3]).toBeCloseTo(Math.sqrt(((1 + 1.21) / 2) * 1.03), 3);
});
