import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { makeBursts, measureMaximumOutput, writeText } from '../../lib';
import type { Recording } from '../../lib/model/curve';
import { makeCurve } from '../../lib/model/makeCurve';
import { playBursts } from '../analysis/maximumOutput/burstSimulator';
import { nodeFile, until, useNodeRed } from './bench';

const { deploy } = useNodeRed();
const files = [nodeFile('maximum-output'), nodeFile('procedure')];
const type = 'bassloom-maximum-output';
const spec = { sampleRateHz: 8000, fromHz: 50, toHz: 63, lowestDbfs: -24, highestDbfs: -6, gapSeconds: 0.5 };
const stimulus = makeBursts(spec);
const unit = (x: number) => x + 2.2 * x * x;
const capture = playBursts(spec, { unit });
const deep = playBursts(spec, { about: { setting: 'deep' } });
const folder = mkdtempSync(join(tmpdir(), 'bassloom-'));
afterAll(() => rmSync(folder, { recursive: true }));

/** The worker takes its time to start. */
const slow = 20_000;

describe('the maximum output node', () => {
  test(
    'finds what the library finds, for each unit and setting, and leaves the measurements alone',
    async () => {
      const { give, lastStatus, statuses } = await deploy(files, { type });
      const payload = [stimulus, capture, deep];
      const { sent, completed } = await give({ payload, other: 1, topic: 'a' });
      expect(completed).toHaveLength(1);
      expect(sent[0]).toMatchObject({ other: 1, topic: 'a' });
      expect(sent[0].payload.map((one: Recording) => one.id)).toEqual(payload.map(({ id }) => id));
      expect(sent[0].findings.maximumOutput).toEqual([
        measureMaximumOutput([capture], stimulus),
        measureMaximumOutput([deep], stimulus),
      ]);
      expect(sent[0].findings.maximumOutput[0].centres[0].stoppedBy).toBe('distortion');
      expect(sent[0].findings.notes).toEqual([]);
      expect(lastStatus()).toMatchObject({ fill: 'green', text: '2 settings: \u2265 -3.0 dB at 63 Hz' });
      expect(statuses().some(({ text }) => text === 'status.working')).toBe(true);
    },
    slow,
  );

  test(
    'takes full scale, distance, correction and limits from dialog, message or procedure',
    async () => {
      const correctionFile = join(folder, 'microphone.txt');
      const correction = makeCurve({
        frequencyHz: [10, 1000],
        levelDb: [-3, -3],
        label: 'microphone',
        role: 'correction',
      });
      writeFileSync(correctionFile, writeText(correction));
      const { give } = await deploy(files, { type, correctionFile, limits: '2: -15; 4-: -20', place: 'half space' });
      const message = { payload: [stimulus, capture], procedure: { fullScaleDb: 120, distanceM: 2 } };
      const limits = [
        { fromOrder: 2, toOrder: 2, limitDb: -15 },
        { fromOrder: 4, toOrder: null, limitDb: -20 },
      ];
      const [found] = (await give(message)).sent[0].findings.maximumOutput;
      expect(found).toMatchObject({ scale: 'spl', measuredAtM: 2, limits });
      const wanted = measureMaximumOutput([capture], stimulus, {
        fullScaleDb: 120,
        measuredAtM: 2,
        correction,
        limits,
        place: 'half space',
      });
      expect(found.centres).toEqual(wanted.centres);
      const [nearer] = (await give({ ...message, measuredAtM: 1, fullScaleDb: 110 })).sent[0].findings.maximumOutput;
      // half the distance and 10 dB less for full scale
      expect(nearer.centres[0].peakAt1mDb).toBeCloseTo(found.centres[0].peakAt1mDb - 20 * Math.log10(2) - 10, 6);
      const unknown = await deploy(files, { type, place: 'unknown' });
      const [inside] = (await unknown.give(message)).sent[0].findings.maximumOutput;
      expect(inside.assumption).toEqual({ place: 'unknown', measuredAtM: [2], calibrated: true });
      expect(inside.centres[0].peakAt1mDb).toBeNull();
    },
    slow,
  );

  test(
    'takes the bursts from a file, whose samples tell them',
    async () => {
      const stimulusFile = join(folder, 'stimulus.wav');
      writeFileSync(stimulusFile, stimulus.wav);
      const { give } = await deploy(files, { type, stimulusFile });
      const { sent } = await give({ payload: capture });
      const [{ centres }] = sent[0].findings.maximumOutput;
      const wanted = measureMaximumOutput([capture], stimulus).centres;
      centres.forEach(({ driveDb, levelAtMicrophoneDb }: (typeof wanted)[0], i: number) => {
        expect(driveDb).toBeCloseTo(wanted[i].driveDb as number, 2);
        expect(levelAtMicrophoneDb).toBeCloseTo(wanted[i].levelAtMicrophoneDb as number, 2);
      });
    },
    slow,
  );

  test(
    'says which captures it leaves out, and where there is none',
    async () => {
      const { give, lastStatus } = await deploy(files, { type });
      const sweep = { ...capture, seconds: 2, label: 'a sweep' };
      const both = await give({ payload: [stimulus, sweep, capture] });
      expect(both.sent[0].findings.maximumOutput).toHaveLength(1);
      expect(both.sent[0].findings.notes).toMatchObject([
        { code: 'output-capture-too-short', values: { label: 'a sweep' } },
      ]);
      const none = await give({ payload: [stimulus] });
      expect(none.sent[0].findings.maximumOutput).toEqual([]);
      expect(none.sent[0].findings.notes).toMatchObject([{ code: 'output-no-captures' }]);
      expect(lastStatus()).toMatchObject({ fill: 'yellow', text: 'nothing found' });
    },
    slow,
  );

  test.each([
    ['no-stimulus', { payload: [capture] }, {}],
    ['bursts-not-found', { payload: [stimulus, playBursts(spec, { unit: () => 0, noise: 0.1 })] }, {}],
    ['bad-setting', { payload: [stimulus, capture], limits: 'loud' }, {}],
    ['bad-setting', { payload: [stimulus, capture] }, { limits: '5-4: -20' }],
    ['no-such-channel', { payload: [stimulus, capture], channel: 2 }, {}],
  ])(
    'refuses with %s, and the message goes on with a note of that',
    async (code, message, config) => {
      const { give, lastStatus } = await deploy(files, { type, ...config });
      const { sent, caught } = await give(message);
      expect(sent.map(({ findings }) => findings)).toMatchObject([
        { notes: [{ code: 'analysis-missing', values: { analysis: 'maximum-output' } }] },
      ]);
      expect(caught[0].error.code).toBe(code);
      expect(lastStatus().fill).toBe('red');
    },
    slow,
  );

  test(
    'ends what it is at when it is closed',
    async () => {
      const { node, seen, statuses } = await deploy(files, { type });
      const payload = [stimulus, ...Array.from({ length: 60 }, () => capture)];
      node.receive({ payload });
      await until(() => statuses().some(({ text }) => text === 'status.working'));
      await node.close(false);
      expect(seen.sent).toEqual([]);
    },
    slow,
  );
});
