import { globSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { until } from './bench';
import { type RunningNodeRed, startNodeRed } from './process';

const require = createRequire(import.meta.url);
const { 'node-red': declared } = require('../../package.json');

/** Posted text goes through import and collect; what collect passes on is answered to the next GET. */
const flow = [
  { id: 'tab', type: 'tab' },
  { id: 'post', z: 'tab', type: 'http in', url: '/give/:name', method: 'post', x: 1, y: 1, wires: [['named']] },
  {
    ...{ id: 'named', z: 'tab', type: 'function', x: 2, y: 1, outputs: 2, wires: [['import'], ['answered']] },
    func: 'const { req, res } = msg; return [{ payload: req.body, filename: req.params.name }, { req, res, payload: "ok" }];',
  },
  { id: 'answered', z: 'tab', type: 'http response', x: 3, y: 2, wires: [] },
  { id: 'import', z: 'tab', type: 'bassloom-import', x: 3, y: 1, source: 'payload', wires: [['collect', 'smooth']] },
  { id: 'smooth', z: 'tab', type: 'bassloom-smoothing', x: 4, y: 2, fraction: '3', wires: [[]] },
  { id: 'collect', z: 'tab', type: 'bassloom-collect', x: 4, y: 1, quietS: '0.5', wires: [['keep']] },
  {
    ...{ id: 'keep', z: 'tab', type: 'function', x: 5, y: 1, outputs: 1, wires: [[]] },
    func: 'node.warn("SESSION " + msg.topic + ": " + msg.payload.map((one) => one.label).join(" "));',
  },
];
const settings = {
  contextStorage: { default: { module: 'localfilesystem', config: { cache: false } } },
  telemetry: { enabled: false, updateNotification: false },
};

describe.each(['node-red', 'node-red-4'])('in %s', (version) => {
  let red: RunningNodeRed | undefined;
  const start = async () => {
    red ??= await startNodeRed(version, flow, settings);
    return red;
  };
  afterAll(() => red?.remove());

  test('every node and the plugin load, each under its own name', async () => {
    const { url } = await start();
    const ask = async (path: string) =>
      (await fetch(url + path, { headers: { accept: 'application/json' } })).json() as Promise<
        { id: string; types: string[]; err?: string; module: string }[]
      >;
    const own = (await ask('/nodes')).filter((set) => set.module === '@bassloom/node-red-bassloom');
    expect(own.map(({ types, err }) => [types, err])).toEqual(
      Object.keys(declared.nodes).map((type) => [[type], undefined]),
    );
    const plugins = (await ask('/plugins')).filter((set) => set.module === '@bassloom/node-red-bassloom');
    expect(plugins.map(({ id, err }) => [id.replace(/.*\//, ''), err])).toEqual([
      ['bassloom-editor', undefined],
      ['bassloom-curves', undefined],
    ]);
  });

  test('a session that was half collected is complete after a power cut', async () => {
    const node = await start();
    const give = (name: string, levelDb: number) =>
      fetch(`${node.url}/give/${name}`, {
        method: 'POST',
        headers: { 'content-type': 'text/plain' },
        body: `20;${levelDb}\n40;${levelDb}\n`,
      });
    await give('sub_flat_step-1.txt', 80);
    await until(() => node.log().includes('SESSION sub: sub_flat_step-1'));
    await give('sub_flat_step-2.txt', 83);
    const kept = () => globSync('context/**/*.json', { cwd: node.userDir }).map((file) => join(node.userDir, file));
    await until(() => kept().some((file) => readFileSync(file, 'utf8').includes('sub_flat_step-2')));
    // on a busy machine the quiet time may be over by now
    const before = node.log();
    await node.restart();
    await until(() => `${before}${node.log()}`.includes('SESSION sub: sub_flat_step-1 sub_flat_step-2'));
    await give('sub_flat_step-2.txt', 84);
    await give('sub_flat_step-3.txt', 86);
    await until(() => node.log().includes('SESSION sub: sub_flat_step-1 sub_flat_step-2 sub_flat_step-3\n'));
  });

  test('the dialog of a room is told its modes', async () => {
    const { url } = await start();
    // c/2L for 5.6, 4.1 and 2.5 m at 20 degrees, c = 331.3 sqrt(1 + 20/273.15) = 343.2 m/s.
    const answer = await fetch(`${url}/bassloom/modes?lengthM=5.6&widthM=4.1&heightM=2.5`);
    const { lowestHz } = (await answer.json()) as { lowestHz: number[] };
    expect(lowestHz[0]).toBeCloseTo(343.2 / 11.2, 1);
    expect((await fetch(`${url}/bassloom/modes?lengthM=x`)).status).toBe(400);
  });

  test('the sidebar is told what a node was given and what it made of that, thinned', async () => {
    const { url } = await start();
    const hz = Array.from({ length: 3000 }, (_, i) => 10 * 1.001 ** i);
    const body = hz.map((one, i) => `${one.toFixed(4)};${i === 1500 ? 40 : 80}`).join('\n');
    await fetch(`${url}/give/long_flat_step-1.txt`, {
      method: 'POST',
      headers: { 'content-type': 'text/plain' },
      body,
    });
    type Told = { topic?: string; curves: { label: string; frequencyHz: number[]; levelDb: number[] }[] };
    const ask = async (query: string) =>
      (await (await fetch(`${url}/bassloom/seen?${query}`)).json()) as { id: string; before?: Told; after?: Told }[];
    await until(async () => (await ask('ids=smooth'))[0].after?.curves[0].label === 'long_flat_step-1');
    const [smooth, none] = await ask('ids=smooth,keep');
    expect(none).toEqual({ id: 'keep' });
    const [came, went] = [smooth.before?.curves[0], smooth.after?.curves[0]];
    for (const curve of [came, went]) expect(curve?.frequencyHz.length).toBeLessThanOrEqual(600);
    // the notch is there before, and a third of an octave makes little of one point in 231
    expect(Math.min(...(came?.levelDb ?? []))).toBe(40);
    expect(Math.min(...(went?.levelDb ?? []))).toBeGreaterThan(79.9);
    const [full] = await ask('ids=smooth&full=true');
    expect(full.after?.curves[0].frequencyHz).toHaveLength(3000);
  });
});
