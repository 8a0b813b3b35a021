import { expect, test } from 'vitest';
import { weightCurve } from '../../lib';
import { nodeFile, response, useNodeRed } from './bench';

const { deploy } = useNodeRed();
const files = [nodeFile('frequency-weighting')];
const type = 'bassloom-frequency-weighting';
const own = response(() => 90, { device: 'a' }, { noiseDb: new Array(121).fill(40) });
const noise = response(() => 30, {}, { role: 'noise', label: 'noise' });
const second = response(() => -40, { device: 'a' }, { role: 'harmonic', order: 2 });
const correction = response(() => 1, {}, { role: 'correction' });

test('responses and noise runs are weighted, harmonics and corrections pass', async () => {
  const { give, lastStatus } = await deploy(files, { type, weighting: '' });
  const { sent } = await give({ payload: [own, second, noise, correction], other: 1 });
  expect(sent[0]).toMatchObject({
    payload: [weightCurve(own, 'A'), second, weightCurve(noise, 'A'), correction],
    other: 1,
  });
  // IEC 61672-1, table of weightings: A at 10 Hz is -70.4 dB (from memory)
  expect(sent[0].payload[0].levelDb[0]).toBeCloseTo(90 - 70.4, 1);
  expect(sent[0].payload[0].noiseDb[0]).toBeCloseTo(40 - 70.4, 1);
  expect(lastStatus()).toMatchObject({ fill: 'green', text: 'status.weighted' });
});

test('the weighting comes from dialog or message; Z changes no level', async () => {
  const { give } = await deploy(files, { type, weighting: '' });
  const at10 = async (message: object) => (await give({ payload: own, ...message })).sent[0].payload[0].levelDb[0];
  expect(await at10({ weighting: 'C' })).toBeCloseTo(90 - 14.3, 1);
  expect(await at10({ weighting: 'Z' })).toBe(90);
  const fixed = await deploy(files, { type, weighting: 'C' });
  expect((await fixed.give({ payload: own, weighting: 'A' })).sent[0].payload[0].levelDb[0]).toBeCloseTo(75.7, 1);
});

test('where there is nothing to weight, the status is yellow', async () => {
  const { give, lastStatus } = await deploy(files, { type });
  expect((await give({ payload: [second] })).sent[0].payload).toEqual([second]);
  expect(lastStatus()).toMatchObject({ fill: 'yellow', text: 'status.weighted' });
});

test('a second weighting, and one that does not exist, are refused', async () => {
  const { give } = await deploy(files, { type });
  const [once] = (await give({ payload: own })).sent;
  expect((await give(once)).caught[0].error.code).toBe('already-weighted');
  expect((await give({ payload: own, weighting: 'B' })).caught[0].error).toMatchObject({
    cause: { field: 'weighting' },
  });
});
