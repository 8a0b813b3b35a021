import { afterAll, describe, expect, test } from 'vitest';
import { closeWorkers, decodeWav, demoSoundRig, drawSoundRig, makeMutedSweep, makeSweep, playRig } from '../../lib';
import type { Recording } from '../../lib/model/curve';
import { type AnyMessage, nodeFile, pause, response, until, useNodeRed } from './bench';

const { deploy } = useNodeRed();
const type = 'bassloom-virtual-rig';
const file = nodeFile('virtual-rig');
afterAll(closeWorkers);

const spec = { startHz: 10, endHz: 200, seconds: 2, sampleRateHz: 16000 };
const sweep = makeSweep(spec);
const twin = makeMutedSweep(spec);
const captures = (message: AnyMessage): Recording[] =>
  message.payload.filter((one: Recording) => one.role === 'capture');

describe('what is played', () => {
  test('a sweep at every drive level; stimuli and other measurements are passed on, first', async () => {
    const { give, lastStatus } = await deploy([file], { type, steps: '3', stepDb: '4' });
    const curve = response(() => 80, { device: 'b' });
    const { sent, caught } = await give({ payload: [curve, sweep], other: 1 });
    expect(caught).toEqual([]);
    expect(sent).toHaveLength(1);
    const [message] = sent;
    expect(message.payload.slice(0, 2)).toMatchObject([{ id: curve.id }, { id: sweep.id }]);
    expect(captures(message).map(({ about }) => about)).toMatchObject(
      [0, 4, 8].map((driveDb) => ({ device: 'Marrowby-12', setting: 'shelf-flat', driveDb })),
    );
    expect(message).toMatchObject({ other: 1, topic: 'Marrowby-12', fullScaleDb: 125 });
    expect(message.correction).toMatchObject({ kind: 'curve', role: 'correction' });
    expect(lastStatus()).toMatchObject({ text: 'status.recorded', fill: 'green' });
  });

  test('the recording is that of the library, to the last bit', async () => {
    const { give } = await deploy([file], { type });
    const { sent } = await give({ payload: sweep, driveDb: 6, setting: 'shelf-lifted' });
    const wanted = playRig(demoSoundRig(), sweep, { setting: 'shelf-lifted', driveDb: 6, take: 0 });
    expect(captures(sent[0]).map(({ id }) => id)).toEqual([wanted.capture.id]);
    expect(Buffer.isBuffer(captures(sent[0])[0].wav)).toBe(true);
  });

  test('all settings, several takes, a drawn rig', async () => {
    const { give } = await deploy([file], { type, rig: 'drawn', seed: '5', setting: '*', steps: '1', takes: '2' });
    const { sent } = await give({ payload: sweep });
    const names = drawSoundRig(5).settings.map(({ name }) => name);
    expect(captures(sent[0]).map(({ about }) => about.setting)).toEqual([names[0], names[0], names[1], names[1]]);
    expect(new Set(captures(sent[0]).map(({ id }) => id)).size).toBe(4);
    expect(sent[0].topic).toBe('unit 5');
  });

  test('a muted twin once, and silence of its own on request', async () => {
    const noiseRuns = (message: AnyMessage) => captures(message).filter(({ label }) => label.endsWith(', noise'));
    const { give } = await deploy([file], { type, steps: '2' });
    const plain = (await give({ payload: [sweep, twin] })).sent[0];
    expect(captures(plain)).toHaveLength(3);
    expect(noiseRuns(plain)).toHaveLength(1);
    const asked = (await give({ payload: [sweep], muted: true })).sent[0];
    expect(noiseRuns(asked)).toHaveLength(1);
    expect(noiseRuns(asked)[0].about.driveDb).toBeUndefined();
    expect(decodeWav(noiseRuns(asked)[0]).channels[0].some((x) => x !== 0)).toBe(true);
  });
});

describe('faults', () => {
  const truthOf = async (config: AnyMessage) => {
    const { give } = await deploy([file], { type, steps: '1', ...config });
    const { sent, caught } = await give({ payload: sweep });
    expect(caught).toEqual([]);
    return { truth: sent[0].truth.runs[0], rig: sent[0].truth.rig, capture: captures(sent[0])[0] };
  };

  test('none unless asked for', async () => {
    const { truth } = await truthOf({});
    expect(truth).toMatchObject({
      clippedSamples: 0,
      clockPpm: 0,
      startMs: 0,
      sweep: { missedBelowHz: null, truncatedAtHz: null },
    });
    expect(truth.toneDbfs).toBeCloseTo(-15, 4);
    expect(truth.tone.thdPercent).toHaveLength(truth.tone.frequencyHz.length);
  });

  test('clipping, hum, clock, start, end and sample rate are as asked, and in the truth', async () => {
    const { truth, capture } = await truthOf({
      inputGainDb: '48',
      humDb: '-70',
      humHz: '60',
      clockPpm: '80',
      startS: '0.25',
      truncateAfterS: '2',
      sampleRateHz: '44100',
    });
    expect(capture).toMatchObject({ sampleRateHz: 44100, id: truth.capture });
    expect(capture.seconds).toBeCloseTo(2, 3);
    expect(truth).toMatchObject({ clockPpm: 80, startMs: 250, fullScaleDb: 77 });
    const samples = decodeWav(capture).channels[0];
    const atRail = samples.filter((x) => x === -1 || x >= 1 - 2 ** -23).length;
    expect(atRail).toBeGreaterThan(10);
    expect(truth.clippedSamples).toBe(atRail);
    // stated at the input as it was, so turned up with everything else
    expect(truth.hum.find(({ frequencyHz }: AnyMessage) => frequencyHz === 120).levelDb).toBeCloseTo(
      -70 - 6.02 + 48,
      2,
    );
    expect(truth.sweep.truncatedAtHz).toBeGreaterThan(30);
    expect(truth.sweep.truncatedAtHz).toBeLessThan(200);
  });

  test('noise, limiter and distortion can be left out', async () => {
    const { truth, rig } = await truthOf({ noise: false, limiter: false, distortion: false });
    expect(truth.noise).toBeNull();
    expect(truth.tone.thdPercent.every((percent: number) => percent === 0)).toBe(true);
    expect(rig.soundLimiter).toBeUndefined();
  });
});

test.each([
  ['a message without a stimulus', { payload: response(() => 80) }, {}, 'nothing-to-play'],
  ['a setting that the rig does not have', { payload: sweep }, { setting: 'loud' }, 'unknown-setting'],
  ['too many recordings', { payload: [sweep] }, { steps: 20, takes: 5, setting: '*', muted: true }, 'too-many-runs'],
  ['a rig that is none', { payload: sweep }, { rig: 'other' }, 'bad-setting'],
])('%s is refused once, with its code', async (_what, message, more, code) => {
  const { give } = await deploy([file], { type });
  const { sent, caught, completed } = await give({ ...message, ...more });
  expect([sent.length, caught.length, completed.length]).toEqual([0, 1, 0]);
  expect(caught[0].error.code).toBe(code);
});

test('others go on while it works, and its status says how far it is', async () => {
  const { node, seen, statuses } = await deploy([file], { type, steps: '4' });
  const long = makeSweep({ startHz: 5, endHz: 400, seconds: 10, sampleRateHz: 48000 });
  await pause(200);
  let turns = 0;
  const ticking = setInterval(() => turns++, 1);
  node.receive({ payload: [long] });
  await until(() => seen.sent.length > 0);
  clearInterval(ticking);
  expect(captures(seen.sent[0])).toHaveLength(4);
  expect(statuses().some(({ text }) => text === 'status.progress')).toBe(true);
  // four plays of some 400 ms each: worked on here, they would leave a turn or two to others after each
  expect(turns).toBeGreaterThan(40);
});

test('a deployment ends the work', async () => {
  const { node, seen } = await deploy([file], { type, steps: '20' });
  const told: AnyMessage[] = [];
  node._complete = (_message: unknown, problem: AnyMessage) => told.push(problem);
  node.receive({ payload: [makeSweep({ startHz: 5, endHz: 400, seconds: 20, sampleRateHz: 48000 })] });
  await pause(100);
  await node.close(false);
  expect(told.map((problem) => problem?.code)).toEqual(['stopped']);
  expect(seen.sent).toEqual([]);
});
