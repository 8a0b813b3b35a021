import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { afterEach, expect, test } from 'vitest';
import { nodeFile, until, useNodeRed } from './bench';
import { type RunningNodeRed, startNodeRed } from './process';

const root = resolve(import.meta.dirname, '../..');
const flowOf = (path: string) => JSON.parse(readFileSync(join(root, path), 'utf8')) as Record<string, unknown>[];
const { deploy } = useNodeRed();
let running: RunningNodeRed | undefined;
afterEach(async () => {
  await running?.remove();
  running = undefined;
});

/** Deploy the flows again, all of them, as the editor's Deploy does. */
async function deployAgain({ url, log }: RunningNodeRed, flows: unknown[]): Promise<void> {
  const times = log().split('Started flows').length;
  const headers = { 'content-type': 'application/json', 'Node-RED-Deployment-Type': 'full' };
  const answer = await fetch(`${url}/flows`, { method: 'POST', headers, body: JSON.stringify(flows) });
  expect(answer.status).toBe(204);
  await until(() => log().split('Started flows').length > times);
}

test('a second full deploy runs no demo by itself, its button does', async () => {
  const demo = flowOf('flows/demo/demo.json');
  // start, gate and button as shipped, with a listener in place of what takes long
  const gates = demo.filter(({ id }) => /-(first|start|press)$/.test(String(id)));
  expect(gates).toHaveLength(6);
  const tabs = demo.filter(({ type }) => type === 'tab');
  const say = tabs.map(({ id }) => ({
    id: `say-${id}`,
    z: id,
    type: 'function',
    func: `node.warn('runs ${id}');`,
    wires: [],
  }));
  const wired = gates.map((node) => {
    const isGated = String(node.id).endsWith('-start');
    return { ...node, ...(isGated ? { onceDelay: '0.1' } : { wires: [[`say-${node.z}`]] }) };
  });
  const flows = [...tabs, ...wired, ...say];
  const runs = (id: unknown) => (running?.log().split(`runs ${id}\n`).length ?? 1) - 1;
  running = await startNodeRed('node-red', flows);
  await until(() => tabs.every(({ id }) => runs(id) === 1));
  await deployAgain(running, flows);
  for (const { id } of gates.filter((node) => String(node.id).endsWith('-press'))) {
    await fetch(`${running.url}/inject/${id}`, { method: 'POST' });
  }
  // what starts by itself is due a tenth of a second after the deploy
  await until(() => tabs.every(({ id }) => runs(id) === 2));
  await wait(500);
  expect(tabs.map(({ id }) => runs(id))).toEqual(tabs.map(() => 2));
});

test('My session with no folder yet deploys without an error, twice', async () => {
  const flows = flowOf('flows/my-session/my-session.json');
  running = await startNodeRed('node-red', flows);
  await wait(1000);
  await deployAgain(running, flows);
  await wait(1000);
  expect(running.log()).not.toMatch(/\[error\]|\[debug:problem\]/);
});

test('an import node with no files chosen says what it needs', async () => {
  const { give, lastStatus } = await deploy([nodeFile('import')], {
    type: 'bassloom-import',
    source: 'files',
    files: '',
  });
  const { sent, caught } = await give({ payload: 1 });
  expect([sent, caught]).toEqual([[], []]);
  expect(lastStatus()).toMatchObject({ fill: 'yellow', text: expect.stringContaining('choose') });
});
