import { createRequire } from 'node:module';
import { afterAll, afterEach, beforeAll } from 'vitest';
import { makeCurve } from '../../lib';
import type { About, Curve } from '../../lib/model/curve';

const require = createRequire(import.meta.url);
const { NodeTestHelper } = require('node-red-node-test-helper');

/** The Node-RED that nodes are tried in: `node-red-4` is the older one. */
const runtime = process.env.BASSLOOM_NODE_RED ?? 'node-red';

// biome-ignore lint/suspicious/noExplicitAny: messages hold anything
export type AnyMessage = Record<string, any>;
export interface Settled {
  sent: AnyMessage[];
  caught: AnyMessage[];
  completed: AnyMessage[];
}

/** A compiled node's file, as Node-RED requires it. */
export function nodeFile(name: string): (RED: unknown) => void {
  return require(`../../dist/nodes/${name}/${name}.js`);
}

/** A Node-RED for one test file, and ways to try nodes in it. */
export function useNodeRed() {
  const helper = new NodeTestHelper();
  beforeAll(async () => {
    helper.init(require.resolve(runtime));
    await helper.startServer();
  });
  let isLoaded = false;
  const unload = async () => {
    if (isLoaded) await helper.unload();
    isLoaded = false;
  };
  afterEach(unload);
  afterAll(() => helper.stopServer());

  /** Deploy one node, wired to a node that listens, with a catch and a complete node beside it. */
  const deploy = async (files: unknown[], config: AnyMessage, others: AnyMessage[] = []) => {
    const flow = [
      { id: 'tab', type: 'tab', label: 'bench' },
      { id: 'n', z: 'tab', wires: [['out']], ...config },
      { id: 'out', z: 'tab', type: 'helper' },
      { id: 'catcher', z: 'tab', type: 'catch', wires: [['caught']] },
      { id: 'caught', z: 'tab', type: 'helper' },
      { id: 'completer', z: 'tab', type: 'complete', scope: ['n'], wires: [['completed']] },
      { id: 'completed', z: 'tab', type: 'helper' },
      ...others,
    ];
    await unload();
    isLoaded = true;
    await helper.load(files, flow);
    const seen: Settled = { sent: [], caught: [], completed: [] };
    helper.getNode('out').on('input', (message: AnyMessage) => seen.sent.push(message));
    helper.getNode('caught').on('input', (message: AnyMessage) => seen.caught.push(message));
    helper.getNode('completed').on('input', (message: AnyMessage) => seen.completed.push(message));
    const node = helper.getNode('n');
    let done = 0;
    const complete = node._complete;
    node._complete = (...args: unknown[]) => {
      done++;
      return complete.apply(node, args);
    };
    return {
      node,
      seen,
      /** Give the node a message that nobody may change; wait until it is done with it, once, and what it sent has arrived. */
      async give(message: AnyMessage): Promise<Settled> {
        const before = { sent: seen.sent.length, caught: seen.caught.length, completed: seen.completed.length };
        const doneBefore = done;
        node.receive(deepFreeze(message));
        await until(() => done > doneBefore);
        await pause(20);
        if (done !== doneBefore + 1) throw new Error(`the node was done ${done - doneBefore} times`);
        return {
          sent: seen.sent.slice(before.sent),
          caught: seen.caught.slice(before.caught),
          completed: seen.completed.slice(before.completed),
        };
      },
      statuses: (): AnyMessage[] => node.status.getCalls().map((call: AnyMessage) => call.args[0]),
      lastStatus: (): AnyMessage => node.status.lastCall?.args[0],
      errors: (): AnyMessage[] => node.error.getCalls().map((call: AnyMessage) => call.args[0]),
    };
  };
  return { helper, deploy };
}

export function pause(ms: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, ms));
}

/** Wait until something is so; give up after `seconds`, which only what never happens should take. */
export async function until(isSo: () => boolean | Promise<boolean>, seconds = 500): Promise<void> {
  const began = Date.now();
  while (!(await isSo())) {
    const ms = Date.now() - began;
    if (ms > seconds * 1000) throw new Error('waited in vain');
    // what takes long need not be looked at so often: to look may cost more than what is waited for
    await pause(Math.min(100, 5 + ms / 50));
  }
}

/** Freeze a message to the bottom, so that whoever changes it fails. Node-RED itself may set `_msgid` on it. */
export function deepFreeze<T extends AnyMessage>(message: T): T {
  const freeze = (value: unknown): void => {
    if (typeof value !== 'object' || value === null || ArrayBuffer.isView(value)) return;
    Object.values(value).forEach(freeze);
    Object.freeze(value);
  };
  Object.values(message).forEach(freeze);
  return Object.freeze({ _msgid: 'test', ...message }) as T;
}

/** A response of 1/24-octave points from 10 Hz to 320 Hz with some level over frequency. */
export function response(levelAt: (hz: number) => number, about: About = {}, more: Partial<Curve> = {}): Curve {
  const frequencyHz = Array.from({ length: 121 }, (_, i) => 10 * 2 ** (i / 24));
  const label = Object.values(about).join(' ') || 'response';
  return makeCurve({ frequencyHz, levelDb: frequencyHz.map(levelAt), label, about, ...more });
}

/** Level of a second-order Butterworth high-pass, dB. */
export function butterworth(hz: number, cornerHz: number): number {
  return -10 * Math.log10(1 + (cornerHz / hz) ** 4);
}
