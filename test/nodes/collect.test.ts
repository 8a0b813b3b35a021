import { expect, test } from 'vitest';
import { makeCurve } from '../../lib';
import type { Curve } from '../../lib/model/curve';
import { type AnyMessage, nodeFile, pause, response, until, useNodeRed } from './bench';

const { deploy } = useNodeRed();
const files = [nodeFile('collect')];
const type = 'bassloom-collect';
const run = (device: string, setting: string, driveDb: number, levelDb = 80 + driveDb) =>
  response(() => levelDb, { device, setting, driveDb });
const noise = () => response(() => 30, {}, { role: 'noise', label: 'noise' });
const labels = (message: AnyMessage) => message.payload.map((curve: Curve) => curve.label);

test('files of a unit become one session in a fixed order after a quiet time', async () => {
  const { give, seen } = await deploy(files, { type, quietS: '0.15' });
  for (const curve of [run('a', 'flat', 3), run('a', 'deep', 0), run('b', 'flat', 0), run('a', 'flat', 0)]) {
    const { completed, sent } = await give({ payload: [curve], filename: curve.label });
    expect([completed.length, sent.length]).toEqual([1, 0]);
  }
  await until(() => seen.sent.length === 2);
  const [first, second] = [...seen.sent].sort((a, b) => (a.topic < b.topic ? -1 : 1));
  expect([first.topic, second.topic]).toEqual(['a', 'b']);
  expect(labels(first)).toEqual(['a deep 0', 'a flat 0', 'a flat 3']);
  expect(labels(second)).toEqual(['b flat 0']);
  expect(first.filename).toBeUndefined();
  await pause(200);
  expect(seen.sent).toHaveLength(2);
});

test('each new file puts the quiet time off', async () => {
  const { give, seen } = await deploy(files, { type, quietS: '0.2' });
  for (let i = 0; i < 5; i++) {
    await give({ payload: [run('a', 'flat', i)] });
    await pause(80);
    expect(seen.sent).toHaveLength(0);
  }
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
  const { give, seen } = await deploy(files, { type, quietS: '0.1' });
  await give({ payload: [run('a', 'flat', 0)] });
  await give({ payload: [run('b', 'flat', 0)] });
  await until(() => seen.sent.length === 2);
  await give({ payload: noise() });
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
  const { give } = await deploy(files, { type, quietS: '60' });
  for (let i = 0; i < 4; i++) {
    await give({
      payload: [run('a', 'flat', i)],
      findings: { notes: [`a flat ${i}: Same.`, `a flat ${i}: Line ${i}.`, 'Of all.'] },
    });
  }
  await give({ payload: [run('a', 'flat', 0)], findings: { notes: ['a flat 0: Anew.'] } });
  const [{ findings }] = (await give({ flush: true })).sent;
  expect(findings.notes).toEqual([
    'Of all.',
    'a flat 0: Anew.',
    'a flat 1: Same.',
    'a flat 1: Line 1.',
    'a flat 2: Same.',
    'a flat 2: Line 2.',
    'a flat 3: Same.',
    'a flat 3: Line 3.',
  ]);
});

test('a flush message may bring the last files along', async () => {
  const { give } = await deploy(files, { type, quietS: '60' });
  const { sent } = await give({ payload: [run('a', 'flat', 0)], flush: true });
  expect(labels(sent[0])).toEqual(['a flat 0']);
});

test('reset forgets everything', async () => {
  const { give, seen } = await deploy(files, { type, quietS: '0.05' });
  await give({ payload: [run('a', 'flat', 0)] });
  await give({ reset: true });
  await pause(120);
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
  await give({ payload: [run('a', 'flat', 0)], quietS: 0.05 });
  await until(() => seen.sent.length === 1, 1);
  const { lastStatus } = await deploy(files, { type, quietS: 'soon' });
  expect(lastStatus()).toMatchObject({ fill: 'red', text: expect.stringContaining('quietS') });
});
