import { expect, test } from 'vitest';
import type { Caveat } from '../../lib/model/caveat';
import type { Curve } from '../../lib/model/curve';
import { describe } from '../../lib/words/describe';
import { butterworth, nodeFile, response, useNodeRed } from './bench';

const { deploy } = useNodeRed();
const node = (name: string, config: object = {}) =>
  deploy([nodeFile(name)], { type: `bassloom-${name}`, ...config } as never);
const unit = (driveDb: number, setting = 'flat', more: object = {}): Curve =>
  response((hz) => 85 + driveDb + butterworth(hz, 25), { device: 'Unit A', setting, driveDb }, more);
const level = (driveDb: number): Curve => response(() => 85 + driveDb, { device: 'Unit A', setting: 'flat', driveDb });
const stump = (driveDb: number): Curve => {
  const whole = unit(driveDb);
  return { ...whole, frequencyHz: whole.frequencyHz.slice(0, 2), levelDb: whole.levelDb.slice(0, 2), label: 'stump' };
};
const codes = ({ notes }: { notes: Caveat[] }) => notes.map(({ code, where }) => [code, where?.file]);

test('a run that an analysis refuses is left out, named in a note and to Catch with its unit, and the others are judged', async () => {
  for (const [name, kind] of [
    ['roll-off', 'rollOff'],
    ['band-fit', 'bandFit'],
  ]) {
    const { give } = await node(name, { curves: 'every' });
    const weighted = {
      ...unit(3),
      label: 'weighted',
      steps: [{ did: 'frequency weighting', with: { weighting: 'A' } }],
    };
    const { sent, caught, completed } = await give({ payload: [unit(0), weighted, unit(6)], topic: 'Unit A' });
    expect(completed).toHaveLength(1);
    const [{ findings }] = sent;
    expect(findings[kind].map(({ about }: Curve) => about.driveDb)).toEqual([0, 6]);
    expect(codes(findings)).toEqual([['run-left-out', 'weighted']]);
    expect(findings.notes[0].severity).toBe('remark');
    expect(caught.map(({ error }) => error.message)).toEqual([expect.stringMatching(/Unit A.*leaves out weighted/)]);
  }
});

test('an analysis that can judge nothing is missing: the message goes on with a note, the error names unit and reason', async () => {
  const { give, lastStatus } = await node('roll-off', { curves: 'every' });
  const payload = [level(0), level(3)];
  const { sent, caught, completed } = await give({ payload, topic: 'Unit A', other: 1 });
  expect([sent.length, caught.length, completed.length]).toEqual([1, 1, 0]);
  expect(sent[0]).toMatchObject({ payload, topic: 'Unit A', other: 1 });
  expect(sent[0].findings).toEqual({
    notes: [expect.objectContaining({ code: 'analysis-missing', severity: 'doubt' })],
  });
  const [note] = sent[0].findings.notes;
  // as data, so that it can be said in any language
  expect(note).toMatchObject({ values: { analysis: 'roll-off' }, because: { code: 'no-roll-off', values: {} } });
  expect(note.message).toBe(`Roll-off is missing from this report. ${note.because.message}`);
  expect(describe({ ...note, message: '', because: { ...note.because, message: '' } })).toMatch(/^Roll-off.*roll-off/);
  expect(caught[0].error).toMatchObject({ code: 'no-roll-off', message: expect.stringContaining('Unit A') });
  expect(lastStatus().fill).toBe('red');
});

test.each([
  ['cut after two points', stump(9)],
  ['on another scale', unit(9, 'flat', { scale: 'spl' })],
  ['without a drive', response(() => 90, { device: 'Unit A', setting: 'flat' }, { label: 'copy (1)' })],
])('a run %s costs the ladder and the difference nothing but itself', async (_what, odd) => {
  const limited = (driveDb: number, setting: string) =>
    response((hz) => 85 + driveDb + butterworth(hz, 25) - (hz < 30 ? Math.max(0, driveDb - 6) : 0), {
      ...{ device: 'Unit A', setting, driveDb },
    });
  const good = ['flat', 'deep'].flatMap((setting) => [0, 3, 6, 12, 15].map((driveDb) => limited(driveDb, setting)));
  const noise = response(() => 20, {}, { role: 'noise' });
  for (const name of ['compression-ladder', 'setting-difference']) {
    const { give } = await node(name);
    const [clean] = (await give({ payload: [...good, noise], topic: 'Unit A' })).sent;
    const { sent, caught } = await give({ payload: [good[0], odd, ...good.slice(1), noise], topic: 'Unit A' });
    const { notes, ...found } = sent[0].findings;
    expect(found).toEqual({ ...clean.findings, notes: undefined });
    expect(codes({ notes })).toContainEqual(['run-set-aside', odd.label]);
    expect(caught.map(({ error }) => error.message)).toEqual([
      expect.stringContaining(`Unit A: ${name} leaves out ${odd.label}`),
    ]);
  }
});

test('a report says on its first screen which analyses are missing and why', async () => {
  const { give } = await node('roll-off', { curves: 'every' });
  const [message] = (await give({ payload: [level(0)], topic: 'Unit A' })).sent;
  const report = await node('report', { write: false });
  const [{ report: made }] = (await report.give(message)).sent;
  const first = made.html.slice(made.html.indexOf('id="findings"'), made.html.indexOf('</section>'));
  expect(first).toMatch(/class="warning">Roll-off is missing from this report\. /);
});
