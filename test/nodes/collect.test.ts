import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { makeCurve } from '../../lib';
import type { Caveat } from '../../lib/model/caveat';
import type { About, Curve, Measurement, Recording } from '../../lib/model/curve';
import type { CaptureQuality } from '../../lib/model/findings';
import { capture as qualityOf } from '../analysis/conclusions/session';
import { deconvolved } from '../deconvolved';
import { type AnyMessage, nodeFile, response, until, useNodeRed } from './bench';

const { deploy } = useNodeRed();
const files = [nodeFile('collect')];
const type = 'bassloom-collect';
const run = (device: string, setting: string, driveDb: number, levelDb = 80 + driveDb) =>
  response(() => levelDb, { device, setting, driveDb });
const noise = () => response(() => 30, {}, { role: 'noise', label: 'noise' });
const labels = (message: AnyMessage) => message.payload.map((curve: Curve) => curve.label);

// Time goes on as it does, so that Node-RED works, and jumps ahead where a test says so.
beforeEach(() => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'], shouldAdvanceTime: true });
});
afterEach(() => {
  vi.useRealTimers();
});
const pass = (seconds: number) => vi.advanceTimersByTimeAsync(1000 * seconds);

test('files of a unit become one session in a fixed order after a quiet time', async () => {
  const { give, seen } = await deploy(files, { type, quietS: '600' });
  for (const curve of [run('a', 'flat', 3), run('a', 'deep', 0), run('b', 'flat', 0), run('a', 'flat', 0)]) {
    const { completed, sent } = await give({ payload: [curve], filename: curve.label });
    expect([completed.length, sent.length]).toEqual([1, 0]);
  }
  await pass(600);
  await until(() => seen.sent.length === 2);
  const [first, second] = [...seen.sent].sort((a, b) => (a.topic < b.topic ? -1 : 1));
  expect([first.topic, second.topic]).toEqual(['a', 'b']);
  expect(labels(first)).toEqual(['a deep 0', 'a flat 0', 'a flat 3']);
  expect(labels(second)).toEqual(['b flat 0']);
  expect(first.filename).toBeUndefined();
  await pass(2000);
  expect(seen.sent).toHaveLength(2);
});

test('each new file puts the quiet time off', async () => {
  const { give, seen } = await deploy(files, { type, quietS: '600' });
  for (let i = 0; i < 5; i++) {
    await give({ payload: [run('a', 'flat', i)] });
    await pass(400);
    expect(seen.sent).toHaveLength(0);
  }
  await pass(200);
  await until(() => seen.sent.length === 1);
  expect(seen.sent[0].payload).toHaveLength(5);
});

test('a later file of the same name or the same run takes the place of the earlier, none counts twice', async () => {
  const { give } = await deploy(files, { type, quietS: '60' });
  const louder = run('a', 'flat', 0, 90);
  const renamed = { ...run('a', 'flat', 3, 99), label: 'another name' };
  await give({ payload: [run('a', 'flat', 0), run('a', 'flat', 3)] });
  await give({ payload: [louder, renamed, renamed] });
  const { sent } = await give({ flush: true });
  expect(labels(sent[0])).toEqual(['a flat 0', 'another name']);
  expect(sent[0].payload.map((curve: Curve) => curve.levelDb[0])).toEqual([90, 99]);
});

test('runs with no known drive are the same only by name or by their numbers', async () => {
  const { give } = await deploy(files, { type, quietS: '60' });
  const one = makeCurve({ frequencyHz: [20, 40], levelDb: [80, 80], label: 'one', about: { device: 'a' } });
  const two = makeCurve({ frequencyHz: [20, 40], levelDb: [81, 80], label: 'two', about: { device: 'a' } });
  await give({ payload: [one, two, { ...one, label: 'copy of one' }] });
  expect(labels((await give({ flush: true })).sent[0])).toEqual(['copy of one', 'two']);
});

test('noise runs of no unit belong to all units and come late', async () => {
  const { give, seen } = await deploy(files, { type, quietS: '600' });
  await give({ payload: [run('a', 'flat', 0)] });
  await give({ payload: [run('b', 'flat', 0)] });
  await pass(600);
  await until(() => seen.sent.length === 2);
  await give({ payload: noise() });
  await pass(600);
  await until(() => seen.sent.length === 4);
  for (const { payload } of seen.sent.slice(2)) {
    expect(payload.map((curve: Curve) => curve.role)).toEqual(['response', 'noise']);
  }
});

test('noise runs alone make no session', async () => {
  const { give } = await deploy(files, { type, quietS: '0' });
  await give({ payload: [noise()] });
  expect((await give({ flush: true })).sent).toEqual([]);
});

test('the unit is the device, else the topic', async () => {
  const { give } = await deploy(files, { type, quietS: '60' });
  await give({ payload: [response(() => 80, { setting: 'flat' })], topic: 'box' });
  expect((await give({ complete: true })).sent.map((message) => message.topic)).toEqual(['box']);
});

test('properties of the last message are passed on, sequences and file names are not', async () => {
  const { give } = await deploy(files, { type, quietS: '60' });
  await give({ payload: [run('a', 'flat', 0)], procedure: { name: 'p' }, parts: { id: 1 }, other: 7, file: 'x' });
  const [message] = (await give({ flush: true })).sent;
  expect(message).toMatchObject({ procedure: { name: 'p' }, other: 7 });
  for (const name of ['parts', 'file', 'flush']) expect(message).not.toHaveProperty(name);
});

test('notes are kept in the order of the session, a later file’s in place of the earlier’s, those of no file first and once', async () => {
  // the sentences are in no order, so that nothing can go by them
  const remark = (code: string, i?: number): Caveat => ({
    code,
    severity: 'remark',
    ...(i !== undefined && { where: { file: `a flat ${i}` } }),
    values: {},
    message: `${9 - code.length} ${code}`,
  });
  const { give } = await deploy(files, { type, quietS: '60' });
  for (let i = 0; i < 4; i++) {
    await give({
      payload: [run('a', 'flat', i)],
      findings: { notes: [remark('same', i), remark(`line-${i}`, i), remark('of-all-b'), remark('of-all-a')] },
    });
  }
  await give({ payload: [run('a', 'flat', 0)], findings: { notes: [remark('anew', 0)] } });
  const [{ findings }] = (await give({ flush: true })).sent;
  expect(findings.notes.map(({ code, where }: Caveat) => [code, where?.file])).toEqual([
    ['of-all-a', undefined],
    ['of-all-b', undefined],
    ['anew', 'a flat 0'],
    ['same', 'a flat 1'],
    ['line-1', 'a flat 1'],
    ['same', 'a flat 2'],
    ['line-2', 'a flat 2'],
    ['same', 'a flat 3'],
    ['line-3', 'a flat 3'],
  ]);
});

test('a flush message may bring the last files along', async () => {
  const { give } = await deploy(files, { type, quietS: '60' });
  const { sent } = await give({ payload: [run('a', 'flat', 0)], flush: true });
  expect(labels(sent[0])).toEqual(['a flat 0']);
});

test('reset forgets everything', async () => {
  const { give, seen } = await deploy(files, { type, quietS: '600' });
  await give({ payload: [run('a', 'flat', 0)] });
  await give({ reset: true });
  await pass(2000);
  expect(seen.sent).toEqual([]);
  expect((await give({ flush: true })).sent).toEqual([]);
});

test('whoever changes what was passed on does not change what is held', async () => {
  const { give } = await deploy(files, { type, quietS: '60' });
  await give({ payload: [run('a', 'flat', 0)] });
  const [first] = (await give({ flush: true })).sent;
  first.payload[0].levelDb[0] = -999;
  const [second] = (await give({ flush: true })).sent;
  expect(second.payload[0].levelDb[0]).toBe(80);
});

test('what is no measurement is refused and changes nothing', async () => {
  const { give } = await deploy(files, { type, quietS: '60' });
  await give({ payload: [run('a', 'flat', 0)] });
  const { caught, completed } = await give({ payload: 'text' });
  expect([caught.length, completed.length]).toEqual([1, 0]);
  expect(caught[0].error.code).toBe('not-measurements');
  expect((await give({ flush: true })).sent[0].payload).toHaveLength(1);
});

test('the quiet time can come from the message, and a bad one is shown on deploy', async () => {
  const { give, seen } = await deploy(files, { type, quietS: '' });
  await give({ payload: [run('a', 'flat', 0)], quietS: 600 });
  await pass(300);
  expect(seen.sent).toEqual([]);
  await pass(300);
  await until(() => seen.sent.length === 1);
  const { lastStatus } = await deploy(files, { type, quietS: 'soon' });
  expect(lastStatus()).toMatchObject({ fill: 'red', text: expect.stringContaining('quietS') });
});

/** What one sweep's capture gives: response, harmonics, impulse response, and how good it was. */
const captured = (driveDb: number, capture: string, orders = [2, 3], setting = 'flat') => {
  const about: About = { device: 'a', setting, driveDb };
  const steps = [deconvolved(capture)];
  const label = `a ${setting} ${driveDb}`;
  const own = response(() => 80 + driveDb, about, { label, steps });
  const harmonics = orders.map((order) =>
    response(() => -10 * order, about, { label: `${label}, harmonic ${order}`, steps, role: 'harmonic', order }),
  );
  const impulse: Recording = {
    ...{ kind: 'recording', role: 'impulse', id: `impulse of ${capture}`, label, wav: Buffer.from(capture) },
    ...{ sampleRateHz: 48000, channels: 1, seconds: 1, about, steps },
  };
  const quality: CaptureQuality = { ...qualityOf(label, 'good', about), recording: capture };
  return { payload: [impulse, ...harmonics.reverse(), own], findings: { captureQuality: [quality] } };
};
const named = ({ payload }: AnyMessage) =>
  payload.map((one: Measurement) =>
    `${one.role} ${(one as Curve).order ?? ''} ${one.about.driveDb}`.replace(/ +/g, ' '),
  );
const captures = ({ findings }: AnyMessage) =>
  findings.captureQuality?.map(({ recording }: CaptureQuality) => recording);

test('what comes from one capture stays together: harmonics do not replace each other, recordings are kept', async () => {
  const { give } = await deploy(files, { type, quietS: '60' });
  await give(captured(3, 'x'));
  await give(captured(0, 'y'));
  const [message] = (await give({ flush: true })).sent;
  expect(named(message)).toEqual([
    ...['response 0', 'response 3', 'harmonic 2 0', 'harmonic 3 0', 'harmonic 2 3', 'harmonic 3 3'],
    ...['impulse 0', 'impulse 3'],
  ]);
  expect(captures(message)).toEqual(['y', 'x']);
  expect(message.payload.at(-1).wav).toEqual(Buffer.from('x'));
});

test('capture quality is passed on with its session and no other, in the order of the session whatever came first', async () => {
  const messages = [captured(0, 'x'), captured(3, 'y'), captured(0, 'z', [2], 'deep')];
  const seen = [];
  for (const order of [
    [0, 1, 2],
    [2, 1, 0],
    [1, 2, 0],
  ]) {
    const { give } = await deploy(files, { type, quietS: '60' });
    for (const i of order) await give(messages[i]);
    const seenB = { code: 'seen', severity: 'remark', where: { file: 'b flat 0' }, values: {}, message: 'Seen.' };
    await give({ payload: [run('b', 'flat', 0)], findings: { notes: [seenB] } });
    const { sent } = await give({ flush: true });
    expect(sent[1].findings).toEqual({ notes: [seenB] });
    const { payload, findings } = sent[0];
    seen.push({ payload, findings });
  }
  expect(captures(seen[0])).toEqual(['z', 'x', 'y']);
  expect(seen[1]).toEqual(seen[0]);
  expect(seen[2]).toEqual(seen[0]);
});

test('a run captured anew takes the place of all that came from its earlier capture, its quality with it', async () => {
  const { give } = await deploy(files, { type, quietS: '60' });
  await give(captured(0, 'first', [2, 3, 4]));
  await give(captured(3, 'other'));
  await give(captured(0, 'second', [2]));
  const [message] = (await give({ flush: true })).sent;
  expect(named(message)).toEqual([
    ...['response 0', 'response 3', 'harmonic 2 0', 'harmonic 2 3', 'harmonic 3 3', 'impulse 0', 'impulse 3'],
  ]);
  expect(captures(message)).toEqual(['second', 'other']);
});

test('runs of no known drive captured anew are known by their names', async () => {
  const undriven = (capture: string) => {
    const { payload, findings } = captured(0, capture, capture === 'first' ? [2, 3] : [2]);
    const about = { device: 'a' };
    return { payload: payload.map((one) => ({ ...one, about })), findings };
  };
  const { give } = await deploy(files, { type, quietS: '60' });
  await give(undriven('first'));
  await give(undriven('second'));
  const [message] = (await give({ flush: true })).sent;
  expect(message.payload.map(({ role }: Measurement) => role)).toEqual(['response', 'harmonic', 'impulse']);
  expect(captures(message)).toEqual(['second']);
});

test('harmonics of no unit go with their response, stimuli, recorded noise and calibrators of no unit with every one', async () => {
  const { give } = await deploy(files, { type, quietS: '60' });
  const bare = captured(0, 'x').payload.map((one) => ({ ...one, about: { driveDb: 0 } }));
  const recording = (role: Recording['role'], label: string) => ({
    ...bare[0],
    role,
    label,
    id: label,
    about: {},
    steps: [],
  });
  await give({
    payload: [recording('stimulus', 'sweep'), recording('capture', 'noise'), recording('capture', 'calibrator 94 dB')],
  });
  expect((await give({ flush: true })).sent).toEqual([]);
  await give({ payload: bare, topic: 'box' });
  const [message] = (await give({ flush: true })).sent;
  expect(message.topic).toBe('box');
  expect(message.payload.map(({ role }: Measurement) => role)).toEqual([
    ...['response', 'harmonic', 'harmonic', 'capture', 'capture', 'impulse', 'stimulus'],
  ]);
});

const from = (file: string, curves: Curve[], mtimeMs = 1) => ({
  payload: curves,
  sources: curves.map(({ id, label }) => ({ id, label, file, mtimeMs })),
});
const twice = ({ findings }: AnyMessage) =>
  findings.notes
    .filter(({ code }: Caveat) => code === 'same-run-twice')
    .map(({ severity, values }: Caveat) => [...[severity, values.used, values.other]]);

test('of two files of one run the one written last is used, in whatever order they come, and both are named once', async () => {
  const older = { ...run('a', 'flat', 3), label: 'a_flat_step-1' };
  const newer = { ...run('a', 'flat', 3, 99), label: 'a_flat_step-01' };
  for (const order of [
    [0, 1],
    [1, 0],
  ]) {
    const { give, seen } = await deploy(files, { type, quietS: '60' });
    const messages = [from('a_flat_step-1.txt', [older], 1), from('a_flat_step-01.txt', [newer], 2)];
    for (const i of order) await give(messages[i]);
    for (const _time of ['once', 'again']) {
      const [message] = (await give({ flush: true })).sent;
      expect(labels(message)).toEqual(['a_flat_step-01']);
      expect(twice(message)).toEqual([['doubt', 'a_flat_step-01.txt', 'a_flat_step-1.txt']]);
    }
    expect(seen.caught.map(({ error }) => error.message)).toEqual([
      expect.stringMatching(/^(BassloomError: )?a: .*a_flat_step-01\.txt.*a_flat_step-1\.txt/),
    ]);
    // the later one goes: the other was kept all the while
    await give({ inbox: { gone: ['a_flat_step-01.txt'] } });
    const [message] = (await give({ flush: true })).sent;
    expect([labels(message), twice(message)]).toEqual([['a_flat_step-1'], []]);
  }
});

test('a copy whose name says no drive is the run it was copied from, and another unit’s same numbers are not', async () => {
  const { give } = await deploy(files, { type, quietS: '60' });
  const original = run('a', 'flat', 3);
  const copy = { ...original, label: 'a flat 3 (1)', about: { device: 'a', setting: 'flat' } };
  const other = { ...original, label: 'b', about: { device: 'b', setting: 'flat', driveDb: 3 } };
  await give(from('copy.txt', [copy], 2));
  await give(from('original.txt', [original]));
  await give(from('other.txt', [other]));
  const { sent } = await give({ flush: true });
  expect(sent.map(labels)).toEqual([['a flat 3'], ['b']]);
  expect(sent.map(twice)).toEqual([[['remark', 'original.txt', 'copy.txt']], []]);
});

test('what is read anew of a file takes the place of all that was read of it, and what is gone leaves the session', async () => {
  const { give, seen } = await deploy(files, { type, quietS: '600' });
  await give(from('one.txt', [run('a', 'flat', 0), run('a', 'flat', 3)]));
  await give(from('two.txt', [run('a', 'flat', 6)]));
  await give(from('one.txt', [run('a', 'flat', 9)]));
  expect((await give({ flush: true })).sent.map(labels)).toEqual([['a flat 6', 'a flat 9']]);
  // a change by itself is passed on after the quiet time
  await give({ inbox: { gone: ['one.txt', 'never seen.txt'] } });
  await pass(600);
  await until(() => seen.sent.length === 2);
  expect(labels(seen.sent[1])).toEqual(['a flat 6']);
  // nothing is left of the unit, and nothing to pass on
  await give({ inbox: { gone: ['two.txt'] } });
  await pass(600);
  expect((await give({ flush: true })).sent).toEqual([]);
  expect(seen.sent).toHaveLength(2);
});

test('files that were refused are named in their unit’s session, until they are read or gone', async () => {
  const { give } = await deploy(files, { type, quietS: '60' });
  await give(from('one.txt', [run('a', 'flat', 0)]));
  const refused = [
    { file: 'bad.txt', unit: 'a', because: { code: 'no-data', message: 'Bad.' } },
    { file: 'worse.txt', unit: 'a', because: { code: 'no-data', message: 'Worse.' } },
    { file: 'stray.txt', because: { code: 'no-data', message: 'Of no unit.' } },
  ];
  await give({ inbox: { refused } });
  const named = async () =>
    (await give({ flush: true })).sent[0].findings.notes.map(({ code, where }: Caveat) => [code, where?.file]);
  expect(await named()).toEqual([
    ['file-refused', 'bad.txt'],
    ['file-refused', 'worse.txt'],
  ]);
  await give(from('bad.txt', [run('a', 'flat', 3)]));
  await give({ inbox: { gone: ['worse.txt'] } });
  expect(await named()).toEqual([]);
});

test('units go one after another where they wait for each other; one that could not be written is tried again', async () => {
  const { give, seen } = await deploy(files, { type, quietS: '1', paced: true, againS: '20' });
  const topics = () => seen.sent.map(({ topic }) => topic);
  await give({ payload: [run('a', 'flat', 0), run('b', 'flat', 0), run('c', 'flat', 0)] });
  await pass(1);
  await until(() => seen.sent.length === 1);
  await pass(100);
  expect(topics()).toEqual(['a']);
  await give({ topic: 'b', through: true }); // not the one that is at it
  expect(topics()).toEqual(['a']);
  await give({ topic: 'a', through: { code: 'disk-full' } });
  await until(() => seen.sent.length === 2);
  await give({ topic: 'b', through: true });
  await until(() => seen.sent.length === 3);
  await give({ topic: 'c', through: { code: 'no-responses' } });
  expect(topics()).toEqual(['a', 'b', 'c']);
  await pass(20);
  await until(() => seen.sent.length === 4);
  // the second time it takes twice as long
  await give({ topic: 'a', through: { code: 'disk-full' } });
  await pass(20);
  expect(topics()).toEqual(['a', 'b', 'c', 'a']);
  await pass(20);
  await until(() => seen.sent.length === 5);
  await give({ topic: 'a', through: true });
  await pass(3000);
  expect(topics()).toEqual(['a', 'b', 'c', 'a', 'a']);
});
