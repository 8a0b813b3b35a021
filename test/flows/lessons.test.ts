import { globSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { until } from '../nodes/bench';
import { type RunningNodeRed, startNodeRed } from '../nodes/process';
import type { FlowNode } from './layout';
import { root } from './script';

const read = (name: string): FlowNode[] => JSON.parse(readFileSync(join(root, `flows/lessons/${name}.json`), 'utf8'));
const smoothed = read('average-and-smoothing');
const spoilt = read('what-spoils-a-recording');
const weighed = read('volts-to-weighted-levels');
// what the debug sidebar shows goes to the log as well
const flow = [...smoothed, ...spoilt, ...weighed].map((node) =>
  node.type === 'debug' ? { ...node, console: true } : node,
);

it('has flows whose ids are their own and whose wires and links lead to nodes', () => {
  const paths = globSync('flows/*/*.json', { cwd: root });
  const nodes: { id: string; wires?: string[][]; links?: string[] }[] = paths.flatMap((path) =>
    JSON.parse(readFileSync(join(root, path), 'utf8')),
  );
  const ids = nodes.map(({ id }) => id);
  expect(ids.filter((id, i) => ids.indexOf(id) !== i)).toEqual([]);
  const targets = nodes.flatMap(({ wires = [], links = [] }) => [...wires.flat(), ...links]);
  expect(targets.length).toBeGreaterThan(50);
  expect(targets.filter((target) => !ids.includes(target))).toEqual([]);
});

describe.each(['node-red', 'node-red-4'])('the lessons on %s', (version) => {
  let red: RunningNodeRed;
  beforeAll(async () => {
    red = await startNodeRed(version, flow);
  });
  afterAll(() => red?.remove());

  /** Press a button, wait until so many debug nodes have spoken, and hand over what they said. */
  async function press(lesson: FlowNode[], button: string, answers = 1): Promise<string> {
    const id = lesson.find(({ type, name }) => type === 'inject' && name === button)?.id;
    const before = red.log().length;
    const response = await fetch(`${red.url}/inject/${id}`, { method: 'POST' });
    expect(response.status).toBe(200);
    const said = () => red.log().slice(before);
    // the next line ends the last answer
    await until(() => said().split('[debug:').length > answers && said().endsWith('\n'), 500);
    expect(said()).not.toMatch(/\[(error|debug:problem)\]/);
    return said();
  }
  const verdict = (said: string) => /verdict: '(\w+)'/.exec(said)?.[1];
  /** What was found and what was true, by the words before them. */
  const pair = (said: string, what: string): [number, number] => {
    const [, found, truth] = new RegExp(`'${what}[^']*': \\[ (\\S+), (\\S+) \\]`).exec(said) ?? [];
    return [Number(found), Number(truth)];
  };

  it('shows what averaging and smoothing do', async () => {
    await press(smoothed, 'press', 3);
  });

  it('has nothing to say against a good recording', async () => {
    const said = await press(spoilt, 'all is well');
    expect(verdict(said)).toBe('good');
    expect(said).toContain('warnings: []');
  });

  it('counts the clipped samples to the last, few or many', async () => {
    for (const [button, fewest, most] of [
      ['input a little too high', 1, 499],
      ['input 30 dB too high', 500, 1e6],
    ] as const) {
      const said = await press(spoilt, button);
      expect(verdict(said)).toBe(most < 500 ? 'doubtful' : 'bad');
      const [found, truth] = pair(said, 'clipped samples');
      expect(found).toBe(truth);
      expect(truth).toBeGreaterThanOrEqual(fewest);
      expect(truth).toBeLessThanOrEqual(most);
    }
  });

  it('tells where a sweep was cut within a per cent', async () => {
    const late = await press(spoilt, 'recorder started late');
    const early = await press(spoilt, 'recording breaks off');
    for (const [found, truth] of [pair(late, 'missed below Hz'), pair(early, 'ends at Hz')]) {
      expect(Math.abs(found / truth - 1)).toBeLessThan(0.01);
    }
    expect([verdict(late), verdict(early)]).toEqual(['doubtful', 'doubtful']);
  });

  it('finds hum, another sample rate and too low a level', async () => {
    expect(await press(spoilt, 'mains hum')).toMatch(/Mains hum: [^']* at 50\.0/);
    expect(await press(spoilt, 'recorded at 44.1 kHz')).toMatch(/44,?100/);
    expect(await press(spoilt, 'played too softly')).toMatch(/too low/);
  });

  it('is never wrong about the clocks', async () => {
    const said = await press(spoilt, 'clocks 300 ppm apart');
    const [found, truth] = pair(said, 'clock in ppm');
    expect(truth).toBe(300);
    if (!said.includes("'clock in ppm, found and true': [ null")) expect(Math.abs(found - truth)).toBeLessThan(30);
  });

  it('weighs bass as IEC 61672-1 says', async () => {
    const said = await press(weighed, 'press', 3);
    const at20Hz = (weighting: string): number => {
      const text = said.slice(said.indexOf(`[debug:dB(${weighting})]`));
      return Number(/'20 Hz': (-?[\d.]+)/.exec(text)?.[1]);
    };
    // 50.5 and 6.2 dB less at 20 Hz: from memory of the standard's table
    expect(Math.abs(at20Hz('Z') - at20Hz('A') - 50.5)).toBeLessThan(0.6);
    expect(Math.abs(at20Hz('Z') - at20Hz('C') - 6.2)).toBeLessThan(0.3);
    expect(at20Hz('Z')).toBeGreaterThan(80);
  });
});
