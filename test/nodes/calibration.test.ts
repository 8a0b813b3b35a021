import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { applyCalibration, isCalibratorName, readWav, writeWav } from '../../lib';
import type { Caveat } from '../../lib/model/caveat';
import type { Curve, Recording } from '../../lib/model/curve';
import { deconvolved } from '../deconvolved';
import { type AnyMessage, nodeFile, response, useNodeRed } from './bench';

const { deploy } = useNodeRed();
const files = [nodeFile('calibration'), nodeFile('procedure')];
const type = 'bassloom-calibration';
const folder = mkdtempSync(join(tmpdir(), 'bassloom-'));
afterAll(() => rmSync(folder, { recursive: true }));

/** Three seconds of a sine with its peaks so far below full scale, dB. */
function tone(dbfs: number, hz = 1000, name = 'calibrator.wav'): Recording {
  const sampleRateHz = 48000;
  const peak = 10 ** (dbfs / 20);
  const samples = Float32Array.from(
    { length: 3 * sampleRateHz },
    (_, i) => peak * Math.sin((2 * Math.PI * hz * i) / sampleRateHz),
  );
  const wav = writeWav({ sampleRateHz, channels: [samples] });
  return readWav(Buffer.from(wav), { name }).recording;
}
const steps = [deconvolved('x')];
const own = response(() => -40, { device: 'a' }, { noiseDb: new Array(121).fill(-90), steps });
const second = response(() => -40, { device: 'a' }, { role: 'harmonic', order: 2, steps });
const capture = tone(-6, 60, 'a_flat_step-1.wav');
const scaleOf = ({ payload }: AnyMessage) => payload.map((one: Curve) => one.scale);

test('a calibrator in the payload calibrates what comes with it and goes no further', async () => {
  const { give, lastStatus } = await deploy(files, { type, source: 'recording' });
  const { sent } = await give({ payload: [tone(-26), own, second, capture], other: 1 });
  // 94 dB at 26 dB below full scale: full scale is 120 dB
  expect(sent[0].fullScaleDb).toBeCloseTo(120, 2);
  expect(sent[0].payload).toEqual([applyCalibration(own, sent[0].fullScaleDb), second, capture]);
  expect(sent[0].payload[0].levelDb[0]).toBeCloseTo(80, 2);
  expect(sent[0].payload[0].noiseDb[0]).toBeCloseTo(30, 2);
  expect(sent[0].other).toBe(1);
  expect(sent[0].findings.notes).toMatchObject([{ code: 'calibrated-by-tone', severity: 'remark' }]);
  expect(sent[0].findings.notes[0].values.fullScaleDb).toBeCloseTo(120, 2);
  expect(lastStatus()).toMatchObject({ fill: 'green', text: 'status.calibrated' });
});

test('it is remembered until the node is deployed anew, a later one takes its place, and it may come alone', async () => {
  const { give } = await deploy(files, { type, source: 'recording' });
  const alone = await give({ payload: [tone(-20)] });
  expect([alone.sent.length, alone.completed.length]).toEqual([0, 1]);
  expect((await give({ payload: [own] })).sent[0].fullScaleDb).toBeCloseTo(114, 2);
  expect((await give({ calibration: tone(-30) })).sent).toEqual([]);
  expect((await give({ payload: [own] })).sent[0].fullScaleDb).toBeCloseTo(124, 2);
  const fresh = await deploy(files, { type, source: 'recording' });
  expect((await fresh.give({ payload: [own] })).sent[0].fullScaleDb).toBeUndefined();
});

test('a recording is looked for in the file, then in msg.calibration, then in the payload', async () => {
  const path = join(folder, 'tone.wav');
  writeFileSync(path, tone(-10).wav);
  const levelOf = async (config: object, message: object) => {
    const { give } = await deploy(files, { type, source: 'recording', ...config });
    return Math.round((await give({ payload: [own, tone(-30)], ...message })).sent[0].fullScaleDb);
  };
  expect(await levelOf({ calibratorFile: path }, { calibration: tone(-20) })).toBe(104);
  expect(await levelOf({}, { calibratorFile: path })).toBe(104);
  expect(await levelOf({}, { calibration: tone(-20) })).toBe(114);
  expect(await levelOf({}, { calibration: Buffer.from(tone(-20).wav) })).toBe(114);
  expect(await levelOf({}, {})).toBe(124);
});

test('level and frequency of the tone come from dialog or message', async () => {
  const { give } = await deploy(files, { type, source: 'recording', toneDb: '114', toneHz: '' });
  const { sent } = await give({ payload: [own], calibration: tone(-20, 250), toneHz: 250 });
  expect(sent[0].fullScaleDb).toBeCloseTo(134, 2);
});

test('a sensitivity gives full scale, and a note that it was not measured', async () => {
  const config = { type, source: 'sensitivity', sensitivityMvPerPa: '50', fullScaleV: '1' };
  const { give, lastStatus } = await deploy(files, config);
  // by hand: 1 V is 20 Pa, 120 dB re 20 uPa; 20 dB of gain take 20 dB off
  const { sent } = await give({ payload: [own], gainDb: 20 });
  expect(sent[0].fullScaleDb).toBeCloseTo(100, 9);
  const codes = sent[0].findings.notes.map(({ code }: Caveat) => code);
  expect(codes).toEqual(['calibrated-by-sensitivity', 'calibration-from-figures']);
  expect(lastStatus()).toMatchObject({ fill: 'green', text: 'status.calibrated' });
  const lacking = await deploy(files, { type, source: 'sensitivity', sensitivityMvPerPa: '50' });
  const { caught } = await lacking.give({ payload: [own] });
  expect(caught[0].error).toMatchObject({ code: 'bad-setting', cause: { field: 'fullScaleV' } });
});

test('a known full scale comes from dialog, message or procedure', async () => {
  const levelOf = async (config: object, message: object) => {
    const { give } = await deploy(files, { type, source: 'fullScale', ...config }, [
      { id: 'p', type: 'bassloom-procedure', name: 'corner', fullScaleDb: '118' },
    ]);
    return (await give({ payload: [own], ...message })).sent[0];
  };
  expect((await levelOf({ fullScaleDb: '121' }, { fullScaleDb: 110 })).fullScaleDb).toBe(121);
  expect((await levelOf({ procedure: 'p' }, { fullScaleDb: 110 })).fullScaleDb).toBe(110);
  const last = await levelOf({ procedure: 'p' }, {});
  expect(last).toMatchObject({ fullScaleDb: 118, procedure: { name: 'corner' } });
  expect(last.findings.notes).toMatchObject([{ code: 'calibrated-as-given', values: { fullScaleDb: 118 } }]);
});

test('without a calibration measurements pass as they are, and it is said', async () => {
  const { give, lastStatus } = await deploy(files, { type, source: 'recording' });
  const { sent } = await give({ payload: [own, capture] });
  expect(sent[0].payload).toEqual([own, capture]);
  expect(sent[0]).not.toHaveProperty('fullScaleDb');
  expect(sent[0].findings.notes).toMatchObject([{ code: 'calibration-none' }]);
  expect(lastStatus()).toMatchObject({ fill: 'yellow' });
});

test('absolute curves stay as they are, and of curves that came from no capture it is said what they were taken for', async () => {
  const { give } = await deploy(files, { type, source: 'fullScale', fullScaleDb: '120' });
  const absolute = response(() => 80, { device: 'b' }, { scale: 'spl' });
  const text = response(() => -40, { device: 'c' }, { label: 'from text' });
  const { sent } = await give({ payload: [absolute, text, own] });
  expect(sent[0].payload[0]).toEqual(absolute);
  expect(scaleOf(sent[0])).toEqual(['spl', 'spl', 'spl']);
  expect(sent[0].findings.notes).toMatchObject([
    { code: 'calibrated-as-given' },
    { code: 'calibration-reference-unknown', severity: 'doubt', values: { label: 'from text' } },
  ]);
});

test('what is no calibrator is refused with its code, and the last calibration stays', async () => {
  const { give } = await deploy(files, { type, source: 'recording' });
  await give({ calibration: tone(-20) });
  for (const [message, code] of [
    [{ calibration: tone(-20, 60) }, 'calibration-no-tone'],
    [{ calibration: 'text' }, 'not-a-recording'],
    [{ calibration: own }, 'not-a-recording'],
    [{ calibration: Buffer.from('no sound') }, 'not-wav'],
    [{ payload: 'text' }, 'not-measurements'],
  ] as const) {
    const { sent, caught } = await give({ payload: [own], ...message });
    expect([sent.length, caught[0].error.code]).toEqual([0, code]);
  }
  expect((await give({ payload: [own] })).sent[0].fullScaleDb).toBeCloseTo(114, 2);
  expect(isCalibratorName(tone(-20).label)).toBe(true);
});
