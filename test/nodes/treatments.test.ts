import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { makeCurve, smooth } from '../../lib';
import type { Caveat } from '../../lib/model/caveat';
import { note } from '../note';
import { nodeFile, response, useNodeRed } from './bench';

const { deploy } = useNodeRed();
const bumpy = response((hz) => 80 + 5 * Math.sin(40 * Math.log(hz)), { device: 'a', setting: 'flat' });
const noise = response((hz) => 30 + Math.sin(40 * Math.log(hz)), {}, { role: 'noise', label: 'noise' });
const correction = makeCurve({ frequencyHz: [10, 1000], levelDb: [-2, -2], role: 'correction', label: 'microphone' });

test('smoothing smooths responses and noise runs, corrections pass', async () => {
  const { give } = await deploy([nodeFile('smoothing')], { type: 'bassloom-smoothing', fraction: '3' });
  const { sent } = await give({ payload: [bumpy, noise, correction], other: 1 });
  expect(sent[0].payload[0]).toEqual(smooth(bumpy, { fraction: 3 }));
  expect(sent[0].payload[1]).toEqual(smooth(noise, { fraction: 3 }));
  expect(sent[0].payload[2]).toEqual(correction);
  expect(sent[0].other).toBe(1);
});

test('the width of smoothing comes from message, procedure or 1/12 octave', async () => {
  const { give } = await deploy([nodeFile('smoothing')], { type: 'bassloom-smoothing', fraction: '' });
  const widthOf = async (message: object) =>
    (await give({ payload: bumpy, ...message })).sent[0].payload[0].steps[0].with.fraction;
  expect(await widthOf({})).toBe(12);
  expect(await widthOf({ fraction: 6, procedure: { smoothing: 24 } })).toBe(6);
  expect(await widthOf({ procedure: { smoothing: '24' } })).toBe(24);
  expect(await widthOf({ fraction: '7' })).toBe(7);
  for (const fraction of [0, 0.5, 97]) {
    expect((await give({ payload: bumpy, fraction })).caught[0].error).toMatchObject({ code: 'bad-setting' });
  }
});

test('the microphone correction is subtracted from responses and noise runs', async () => {
  const { give } = await deploy([nodeFile('microphone-correction')], { type: 'bassloom-microphone-correction' });
  const { sent } = await give({ payload: [bumpy, noise, correction] });
  const [corrected, quiet, file] = sent[0].payload;
  expect(corrected.levelDb[5]).toBeCloseTo(bumpy.levelDb[5] + 2, 9);
  expect(quiet.levelDb[5]).toBeCloseTo(noise.levelDb[5] + 2, 9);
  expect(file).toEqual(correction);
  expect(corrected.steps.at(-1)).toMatchObject({ did: 'microphone correction' });
});

test('a correction is taken from the file, else from msg.correction, else from the payload', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'bassloom-'));
  const path = join(folder, 'mic.txt');
  writeFileSync(path, '10;-1\n1000;-1\n');
  const type = 'bassloom-microphone-correction';
  const raisedBy = async (config: object, message: object) => {
    const { give } = await deploy([nodeFile('microphone-correction')], { type, ...config });
    const { sent } = await give({ payload: [bumpy, correction], ...message });
    return Math.round(sent[0].payload[0].levelDb[5] - bumpy.levelDb[5]);
  };
  expect(await raisedBy({ correctionFile: path }, { correction: '10;-4\n1000;-4\n' })).toBe(1);
  expect(await raisedBy({}, { correctionFile: path })).toBe(1);
  expect(await raisedBy({}, { correction: '10;-4\n1000;-4\n' })).toBe(4);
  expect(await raisedBy({}, { correction: Buffer.from('10;-4\n1000;-4\n') })).toBe(4);
  expect(await raisedBy({}, { correction: { ...correction, levelDb: [-7, -7] } })).toBe(7);
  expect(await raisedBy({}, {})).toBe(2);
  rmSync(folder, { recursive: true });
});

test('without a correction measurements pass, and it is said', async () => {
  const { give, lastStatus } = await deploy([nodeFile('microphone-correction')], {
    type: 'bassloom-microphone-correction',
  });
  const before: Caveat = { code: 'before', severity: 'remark', values: {}, message: 'Before.' };
  const { sent } = await give({ payload: [bumpy], findings: { notes: [before] } });
  expect(sent[0].payload).toEqual([bumpy]);
  expect(sent[0].findings.notes).toEqual([before, note('no-correction')]);
  expect(lastStatus()).toMatchObject({ fill: 'yellow' });
});

test.each([
  ['a file that is not there', { correctionFile: '/nowhere/mic.txt' }, 'no-such-file'],
  ['a curve that is none', { correction: { kind: 'curve', about: {} } }, 'not-measurements'],
  ['text that is no correction', { correction: 'hello' }, 'nothing-numeric'],
])('%s as correction is refused once', async (_what, message, code) => {
  const { give } = await deploy([nodeFile('microphone-correction')], { type: 'bassloom-microphone-correction' });
  const { sent, caught, completed } = await give({ payload: [bumpy], ...message });
  expect([sent.length, caught.length, completed.length]).toEqual([0, 1, 0]);
  expect(caught[0].error.code).toBe(code);
});

test('a curve is not corrected twice', async () => {
  const { give } = await deploy([nodeFile('microphone-correction')], { type: 'bassloom-microphone-correction' });
  const [once] = (await give({ payload: [bumpy], correction })).sent;
  expect((await give({ payload: once.payload, correction })).caught[0].error.code).toBe('already-corrected');
});

const at = (levelDb: number, about: object) => response(() => levelDb, { device: 'a', ...about });
const runs = [
  at(80, { setting: 'flat', driveDb: 0, position: 'left' }),
  at(86, { setting: 'flat', driveDb: 0, position: 'right' }),
  at(82, { setting: 'flat', driveDb: 0, position: 'left' }),
  at(90, { setting: 'flat', driveDb: 3, position: 'left' }),
];

test('averages over positions and repeats keep unit, setting and drive apart', async () => {
  const { give } = await deploy([nodeFile('average')], { type: 'bassloom-average' });
  const { sent } = await give({ payload: [...runs, noise] });
  const levels = sent[0].payload.map((curve: { levelDb: number[] }) => curve.levelDb[60]);
  // 10 lg ((10^8 + 10^8.6 + 10^8.2) / 3), by hand.
  expect(levels[0]).toBeCloseTo(83.4, 2);
  expect(levels[1]).toBe(90);
  expect(sent[0].payload[0].about).toEqual({ device: 'a', setting: 'flat', driveDb: 0 });
  expect(sent[0].payload[2]).toEqual(noise);
});

test('averages can be over repeats only, or over everything, of levels or of powers', async () => {
  const levels = async (message: object) => {
    const { give } = await deploy([nodeFile('average')], { type: 'bassloom-average', grouping: '', averaging: '' });
    const { sent } = await give({ payload: runs, ...message });
    return sent[0].payload.map((curve: { levelDb: number[] }) => Number(curve.levelDb[60].toFixed(2)));
  };
  expect(await levels({ grouping: 'repeats', averaging: 'decibel' })).toEqual([81, 86, 90]);
  expect(await levels({ grouping: 'all', averaging: 'decibel' })).toEqual([84.5]);
});

test('what cannot be averaged is refused with its code', async () => {
  const { give } = await deploy([nodeFile('average')], { type: 'bassloom-average', averaging: 'vector' });
  expect((await give({ payload: runs })).caught[0].error.code).toBe('no-phase');
  expect((await give({ payload: [noise] })).caught[0].error.code).toBe('no-responses');
  expect((await give({ payload: runs, grouping: 'some' })).caught[0].error.cause.field).toBe('grouping');
});
