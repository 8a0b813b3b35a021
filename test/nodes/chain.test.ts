import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { type Curve, demoRig, sessionFiles } from '../../lib';
import { findingsSchema } from '../../lib/model/schemas';
import { type AnyMessage, nodeFile, until, useNodeRed } from './bench';

const { helper, deploy } = useNodeRed();
const steps = [
  'microphone-correction',
  'mode-annotation',
  'compression-ladder',
  'band-fit',
  'roll-off',
  'setting-difference',
  'report',
];
const files = ['import', 'collect', 'room', 'procedure', ...steps].map(nodeFile);
const { room } = demoRig();
const unitAt = room!.source!;
const microphoneAt = room!.microphone!;
let folder: string;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'bassloom-'));
  for (const { name, text } of sessionFiles(demoRig())) writeFileSync(join(folder, name), text);
});
afterAll(() => rmSync(folder, { recursive: true }));

/** All nodes one behind the other, import or collect first. */
const chain = () => [
  ...steps.map((name, i) => ({
    ...{ id: name, z: 'tab', type: `bassloom-${name}`, wires: [[steps[i + 1] ?? 'out']] },
    ...(name === 'mode-annotation' && { room: 'r' }),
    ...(name === 'report' && { write: false }),
  })),
  {
    ...{ id: 'r', type: 'bassloom-room', name: 'room' },
    ...{ lengthM: room!.lengthM, widthM: room!.widthM, heightM: room!.heightM, decayS: room!.decayS },
    ...{ sourceXM: unitAt[0], sourceYM: unitAt[1], sourceZM: unitAt[2] },
    ...{ microphoneXM: microphoneAt[0], microphoneYM: microphoneAt[1], microphoneZM: microphoneAt[2] },
  },
  { id: 'p', type: 'bassloom-procedure', name: 'the fixed way', smoothing: '12', windowHeightDb: '6', stepDb: '3' },
];
const facts = ({ payload, findings, topic, report }: AnyMessage) => ({
  topic,
  labels: payload.map((curve: Curve) => curve.label).sort(),
  procedures: [...new Set(payload.map((curve: Curve) => curve.about.procedure))],
  heights: [...new Set(findings.bandFit.map((fit: { heightDb: number }) => fit.heightDb))],
  counts: [findings.ladder.length, findings.bandFit.length, findings.rollOff.length, findings.settingDifference.length],
  predicted: findings.roomPrediction.room,
  snrFrom: findings.ladder.map((ladder: { snrFrom: string }) => ladder.snrFrom),
  hasVerdict: report.verdict.length > 3,
});
const expected = {
  topic: 'Marrowby-12',
  labels: expect.arrayContaining(['noise', 'microphone-correction', 'Marrowby-12_shelf-flat_step-01']),
  procedures: ['the fixed way'],
  heights: [6],
  counts: [2, 2, 2, 1],
  predicted: 'room',
  snrFrom: ['noise run', 'noise run'],
  hasVerdict: true,
};

test('a folder goes through all nodes into a report, each taking from the procedure what it is not told', async () => {
  const { node, seen } = await deploy(
    files,
    { type: 'bassloom-import', source: 'files', files: folder, procedure: 'p', wires: [[steps[0]]] },
    chain(),
  );
  node.receive({});
  await until(() => seen.sent.length + seen.caught.length > 0);
  expect(seen.caught).toEqual([]);
  expect(facts(seen.sent[0])).toEqual(expected);
  expect(findingsSchema.safeParse(seen.sent[0].findings).error).toBeUndefined();
});

test('files that come one by one end in the same findings', async () => {
  const one = await deploy(files, { type: 'bassloom-import', source: 'files', procedure: 'p', wires: [['collect']] }, [
    { id: 'collect', z: 'tab', type: 'bassloom-collect', quietS: '0.3', wires: [[steps[0]]] },
    ...chain(),
  ]);
  for (const { name } of sessionFiles(demoRig()).reverse()) helper.getNode('n').receive({ files: join(folder, name) });
  await until(() => one.seen.sent.length + one.seen.caught.length > 0);
  expect(one.seen.caught).toEqual([]);
  expect(facts(one.seen.sent[0])).toEqual(expected);
});
