import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { decodeWav, makeCurve, makeMutedSweep, makeRecording, makeSweep, writeWav } from '../../lib';
import type { Caveat } from '../../lib/model/caveat';
import type { About, Curve, Recording } from '../../lib/model/curve';
import { type AnyMessage, nodeFile, pause, response, until, useNodeRed } from './bench';

const { deploy } = useNodeRed();
const type = 'bassloom-deconvolve';
const plain = { type, impulses: false, harmonics: '1' };
const file = nodeFile('deconvolve');
const procedureFile = nodeFile('procedure');

const spec = { startHz: 20, endHz: 200, seconds: 3, sampleRateHz: 8000, levelDbfs: -12 };
const sweep = makeSweep(spec);
const played = decodeWav(sweep).channels[0];

/** What a microphone would hear of the sweep: so much of it, with a little noise, the same for the same seed. */
function capture(label: string, about: About = {}, { gain = 0.5, noise = 1e-4, seed = 1, rail = 1 } = {}): Recording {
  return recordingOf(label, about, (i) => gain * played[i], noise, seed, rail);
}

function silence(label: string, about: About = {}, noise = 1e-4): Recording {
  return recordingOf(label, about, () => 0, noise, 99, 1);
}

function recordingOf(
  label: string,
  about: About,
  at: (i: number) => number,
  noise: number,
  seed: number,
  rail: number,
) {
  let state = seed;
  const random = () => {
    state = (state * 48271) % 0x7fffffff;
    return state / 0x7fffffff - 0.5;
  };
  const samples = Float64Array.from(played, (_, i) => Math.max(-rail, Math.min(rail, at(i) + noise * random())));
  return makeRecording(writeWav({ sampleRateHz: spec.sampleRateHz, channels: [samples] }, { format: 'pcm24' }), {
    label,
    about,
  });
}

const folder = mkdtempSync(join(tmpdir(), 'bassloom-'));
afterAll(() => rmSync(folder, { recursive: true }));
const one = capture('one', { device: 'a', driveDb: 0 });
const two = capture('two', { device: 'a', driveDb: 3 }, { gain: 0.7, seed: 2 });
const roles = (payload: AnyMessage[]) =>
  payload.map(({ label, role, order }) => [label.split(',')[0], role, order ?? 1]);
const middle = ({ frequencyHz, levelDb }: Curve) => levelDb[frequencyHz.findIndex((hz) => hz >= 60)];

const before: Caveat = { code: 'before', severity: 'remark', values: {}, message: 'Before.' };

test('captures become responses and harmonics, in their order; curves are passed on as they are', async () => {
  const { give, lastStatus } = await deploy([file], { ...plain, harmonics: '3' });
  const curve = response(() => 80, { device: 'b' });
  const { sent, caught } = await give({ payload: [one, curve, sweep, two], other: 1, findings: { notes: [before] } });
  expect(caught).toEqual([]);
  expect(sent).toHaveLength(1);
  expect(roles(sent[0].payload)).toEqual([
    ['b', 'response', 1],
    ['one', 'response', 1],
    ['one', 'harmonic', 2],
    ['one', 'harmonic', 3],
    ['two', 'response', 1],
    ['two', 'harmonic', 2],
    ['two', 'harmonic', 3],
  ]);
  const [passed, first, , , second] = sent[0].payload;
  expect(passed).toEqual(curve);
  expect(first.about).toEqual({ device: 'a', driveDb: 0 });
  // 20 lg(0.7 / 0.5) = 2.92 dB
  expect(middle(second) - middle(first)).toBeCloseTo(2.92, 1);
  expect(middle(first)).toBeCloseTo(-12 + 20 * Math.log10(0.5), 1);
  expect(sent[0].findings.captureQuality.map(({ label, verdict }: AnyMessage) => [label, verdict])).toEqual([
    ['one', 'good'],
    ['two', 'good'],
  ]);
  expect(sent[0]).toMatchObject({ other: 1, findings: { notes: [before] } });
  expect(lastStatus()).toMatchObject({ fill: 'green', text: expect.stringContaining('good') });
});

test('harmonics are as many as wanted, impulse responses may be left out', async () => {
  const of = async (config: object) => {
    const { give } = await deploy([file], config);
    return (await give({ payload: [sweep, one] })).sent[0].payload as AnyMessage[];
  };
  expect(roles(await of(plain))).toEqual([['one', 'response', 1]]);
  const all = await of({ type });
  expect(all.map(({ role }) => role)).toEqual(['response', ...Array(4).fill('harmonic'), 'impulse']);
  const impulse = all.at(-1) as AnyMessage;
  expect(Buffer.isBuffer(impulse.wav)).toBe(true);
  expect(decodeWav(impulse as Recording).channels).toHaveLength(1);
});

test('a message without captures is passed on, but for silence and stimuli; what holds nothing else ends here', async () => {
  const { give, lastStatus } = await deploy([file], { type });
  const curve = response(() => 80);
  expect((await give({ payload: [curve] })).sent[0].payload).toEqual([curve]);
  expect((await give({ payload: [curve, silence('noise 1'), sweep] })).sent[0].payload).toEqual([curve]);
  const calibrator = silence('Calibrator 94 dB');
  expect((await give({ payload: [calibrator, silence('noise 1')] })).sent[0].payload).toEqual([calibrator]);
  expect((await give({ payload: [silence('noise 1')] })).sent).toEqual([]);
  expect(lastStatus()).toMatchObject({ fill: 'grey', text: expect.stringContaining('noise') });
  expect((await give({ payload: [sweep, makeMutedSweep(spec)] })).sent).toEqual([]);
  expect(lastStatus()).toMatchObject({ text: expect.stringContaining('stimulus') });
});

describe('the stimulus', () => {
  const wav = join(folder, 'a sweep.wav');
  writeFileSync(wav, sweep.wav);
  const levelOf = async (config: object, message: object, payload: Recording[] = [one]) => {
    const { give } = await deploy([file], { type, ...config });
    const { sent, caught } = await give({ payload, ...message });
    return caught[0]?.error.code ?? Math.round(middle(sent[0].payload[0]));
  };
  const wanted = Math.round(-12 + 20 * Math.log10(0.5));

  test.each([
    ['with the captures', {}, {}, [one, sweep]],
    ['with the captures, beside its muted twin', {}, {}, [sweep, makeMutedSweep(spec), one]],
    ['as a recording', {}, { stimulus: sweep }, [one]],
    ['as bytes', {}, { stimulus: sweep.wav }, [one]],
    ['as the spec of a sweep', {}, { stimulus: spec }, [one]],
    ['as a file that the dialog names', { source: 'file', stimulusFile: wav }, {}, [one]],
    ['as a file that the message names', { source: 'file' }, { stimulusFile: wav }, [one]],
    // biome-ignore lint/suspicious/noTemplateCurlyInString: that is how Node-RED writes environment variables
    ['after a file that is not set', { source: 'file', stimulusFile: '${BASSLOOM_NOTHING}' }, {}, [one, sweep]],
    ['as a sweep of the dialog', { source: 'sweep', ...spec }, {}, [one]],
  ])('may come %s', async (_how, config, message, payload) => {
    expect(await levelOf(config, message, payload)).toBe(wanted);
  });

  test('is refused where there is none, where there are several, and where it is no sound', async () => {
    expect(await levelOf({}, {})).toBe('no-stimulus');
    expect(await levelOf({}, {}, [one, sweep, makeSweep({ ...spec, seconds: 4 })])).toBe('several-stimuli');
    expect(await levelOf({}, { stimulus: { startHz: 20 } })).toBe('not-stimulus');
    expect(await levelOf({}, { stimulus: Buffer.from('hello') })).toBe('not-wav');
    expect(await levelOf({ source: 'file', stimulusFile: join(folder, 'none.wav') }, {})).toBe('no-such-file');
  });

  test('of an earlier message is remembered, and that is said', async () => {
    const { give } = await deploy([file], { type });
    expect((await give({ payload: [one] })).caught[0].error.code).toBe('no-stimulus');
    await give({ payload: [sweep] });
    const { sent } = await give({ payload: [two] });
    expect(sent[0].findings.notes).toMatchObject([{ code: 'earlier-stimulus', values: { stimulus: sweep.label } }]);
    expect((await give({ payload: [two, sweep] })).sent[0].findings.notes).toEqual([]);
  });

  test('of a file is read again when the file has changed', async () => {
    const path = join(folder, 'changing.wav');
    const { give } = await deploy([file], { type, source: 'file', stimulusFile: path });
    writeFileSync(path, sweep.wav);
    const before = middle((await give({ payload: [one] })).sent[0].payload[0]);
    writeFileSync(path, makeSweep({ ...spec, levelDbfs: -18 }, { format: 'pcm16' }).wav);
    const after = middle((await give({ payload: [one] })).sent[0].payload[0]);
    // the received level of the tone does not depend on how loud the file says it was
    expect(after).toBeCloseTo(before, 1);
    writeFileSync(path, 'no longer a sound');
    expect((await give({ payload: [one] })).caught[0].error.code).toBe('not-wav');
  });
});

test('a capture of silence of the same unit is the noise of its captures', async () => {
  const { give } = await deploy([file], plain);
  const noiseAt60 = async (payload: Recording[]) => {
    const { sent } = await give({ payload: [sweep, one, ...payload] });
    expect(sent[0].payload).toHaveLength(1);
    const { frequencyHz, noiseDb } = sent[0].payload[0] as Curve;
    const inBand = noiseDb?.filter((_, i) => frequencyHz[i] > 40 && frequencyHz[i] < 160) as number[];
    return 10 * Math.log10(inBand.reduce((sum, db) => sum + 10 ** (db / 10), 0) / inBand.length);
  };
  const quiet = await noiseAt60([silence('noise a', { device: 'a' }, 1e-4), silence('noise', {}, 1e-2)]);
  const other = await noiseAt60([silence('noise b', { device: 'b' }, 1e-1), silence('Noise', {}, 1e-3)]);
  const loud = await noiseAt60([silence('unit, noise', {}, 1e-2)]);
  // ten times the noise is 20 dB more, less what a shorter window takes away once there is more noise than signal
  expect(other - quiet).toBeGreaterThan(5);
  expect(loud - other).toBeGreaterThan(15);
  expect(loud - other).toBeLessThan(25);
});

describe('a bad capture', () => {
  const clipped = capture('clipped', { device: 'a', driveDb: 6 }, { gain: 3, rail: 0.2, noise: 0 });

  test('is passed on, marked, and shown in red', async () => {
    const { give, lastStatus } = await deploy([file], plain);
    const { sent, caught } = await give({ payload: [sweep, one, clipped] });
    expect(caught).toEqual([]);
    expect(roles(sent[0].payload)).toEqual([
      ['one', 'response', 1],
      ['clipped', 'response', 1],
    ]);
    expect(sent[0].payload[1].steps.at(-1).with).toMatchObject({ verdict: 'bad', capture: clipped.id });
    expect(sent[0].findings.captureQuality[1]).toMatchObject({ verdict: 'bad' });
    expect(lastStatus()).toMatchObject({ fill: 'red', text: expect.stringContaining('bad') });
  });

  test('is held back on request, and reaches Catch with its recording', async () => {
    const { give, lastStatus, node } = await deploy([file], { ...plain, bad: 'holdBack' });
    const { sent, caught } = await give({ payload: [sweep, one, clipped], other: 1 });
    expect(roles(sent[0].payload)).toEqual([['one', 'response', 1]]);
    expect(sent[0].findings.captureQuality).toHaveLength(1);
    expect(caught).toHaveLength(1);
    expect(caught[0]).toMatchObject({ error: { code: 'bad-capture' }, filename: 'clipped', other: 1 });
    expect(caught[0].error.message).toMatch(/clipped is held back\. .*clipped/);
    expect(caught[0].payload.map(({ id }: Recording) => id)).toEqual([clipped.id]);
    expect(lastStatus()).toMatchObject({ fill: 'red' });
    const alone = await give({ payload: [clipped] });
    expect([alone.sent.length, alone.caught.length]).toEqual([0, 1]);
    expect(node).toBeDefined();
  });
});

test('a capture that cannot be read reaches Catch while the others go on; alone it is refused', async () => {
  const { give, lastStatus } = await deploy([file], { ...plain, channel: '2' });
  const stereo = makeRecording(
    writeWav({ sampleRateHz: spec.sampleRateHz, channels: [played, Float64Array.from(played, (x) => x / 2)] }),
    { label: 'stereo' },
  );
  const { sent, caught } = await give({ payload: [sweep, one, stereo] });
  expect(roles(sent[0].payload)).toEqual([['stereo', 'response', 1]]);
  expect(caught).toHaveLength(1);
  expect(caught[0]).toMatchObject({ filename: 'one', error: { code: expect.any(String) } });
  expect(lastStatus()).toMatchObject({ fill: 'red', text: expect.stringContaining('refused') });
  const alone = await give({ payload: [one] });
  expect([alone.sent.length, alone.caught.length, alone.completed.length]).toEqual([0, 1, 0]);
});

test('full scale comes from dialog, message or procedure, and makes levels sound pressure', async () => {
  const levelOf = async (config: object, message: object, others: AnyMessage[] = []) => {
    const { give } = await deploy([file, procedureFile], { ...plain, ...config }, others);
    const curve = (await give({ payload: [sweep, one], ...message })).sent[0].payload[0] as Curve;
    return [curve.scale, Math.abs(Math.round(middle(curve) + 12 - 20 * Math.log10(0.5)))];
  };
  expect(await levelOf({}, {})).toEqual(['relative', 0]);
  expect(await levelOf({ fullScaleDb: '120' }, { fullScaleDb: 110 })).toEqual(['spl', 120]);
  expect(await levelOf({}, { fullScaleDb: 110, procedure: { fullScaleDb: 100 } })).toEqual(['spl', 110]);
  expect(await levelOf({}, { procedure: { fullScaleDb: 100 } })).toEqual(['spl', 100]);
  const procedure = { id: 'p', type: 'bassloom-procedure', name: 'fixed', fullScaleDb: '105' };
  expect(await levelOf({ procedure: 'p' }, {}, [procedure])).toEqual(['spl', 105]);
});

test('a microphone correction of a file or of the message is taken out', async () => {
  const path = join(folder, 'mic.txt');
  writeFileSync(path, '10;-1\n1000;-1\n');
  const levelOf = async (config: object, message: object) => {
    const { give } = await deploy([file], { ...plain, ...config });
    return middle((await give({ payload: [sweep, one], ...message })).sent[0].payload[0]);
  };
  const uncorrected = await levelOf({}, {});
  const correction = makeCurve({ frequencyHz: [10, 1000], levelDb: [-4, -4], role: 'correction' });
  expect((await levelOf({ correctionFile: path }, { correction })) - uncorrected).toBeCloseTo(1, 6);
  expect((await levelOf({}, { correction })) - uncorrected).toBeCloseTo(4, 6);
});

test('two takes of one run are compared, and the curves say what came of it', async () => {
  const run = { device: 'a', setting: 'flat', driveDb: 0, position: 'floor' };
  const { give } = await deploy([file], plain);
  const takes = [capture('take 1', run), capture('take 2', run, { gain: 0.65, seed: 3 }), two];
  const { sent } = await give({ payload: [sweep, ...takes] });
  const [first, second, third] = sent[0].findings.captureQuality;
  // 20 lg(0.65 / 0.5) = 2.28 dB
  expect(first.repeatability.worstDb).toBeCloseTo(2.28, 1);
  expect(second.repeatability).toMatchObject({ take: 'take 1' });
  expect(third.repeatability).toBeUndefined();
  expect([first.verdict, third.verdict]).toEqual(['doubtful', 'good']);
  const step = sent[0].payload[0].steps.find(({ did }: AnyMessage) => did === 'deconvolve');
  expect(step.with).toMatchObject({ verdict: 'doubtful', warnings: first.warnings });
});

test('ten messages at once are passed on in their order, the progress of all is shown', async () => {
  const { node, seen, statuses } = await deploy([file], plain);
  await pause(20);
  const names = Array.from({ length: 10 }, (_, i) => `run ${i}`);
  for (const [i, name] of names.entries()) node.receive({ payload: [sweep, capture(name, {}, { seed: i + 1 })] });
  await until(() => seen.sent.length === 10);
  expect(seen.sent.map(({ payload }) => payload[0].label)).toEqual(names);
  expect(seen.caught).toEqual([]);
  const shown = statuses().filter(({ fill }) => fill === 'blue');
  expect(shown.length).toBeGreaterThan(0);
  await until(() => statuses().at(-1)?.fill === 'green');
});

test('a deployment ends the work, and each message is done once', async () => {
  const { node, seen } = await deploy([file], { type });
  const told: AnyMessage[] = [];
  node._complete = (_message: unknown, problem: AnyMessage) => told.push(problem);
  const captures = Array.from({ length: 40 }, (_, i) => capture(`run ${i}`, {}, { seed: i + 1 }));
  for (let i = 0; i < 2; i++) node.receive({ payload: [sweep, ...captures] });
  await pause(150);
  await node.close(false);
  expect(told.map((problem) => problem?.code)).toEqual(['stopped', 'stopped']);
  await pause(50);
  expect([seen.sent.length, told.length]).toEqual([0, 2]);
});
