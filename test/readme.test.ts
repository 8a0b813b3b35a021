import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '..');
const readme = readFileSync(join(root, 'README.md'), 'utf8');

describe('the README', () => {
  const blocks = [...readme.matchAll(/```js\n([\s\S]*?)```/g)].map(([, code]) => code);
  const wanted = [/onsetDriveDb[\s\S]*lowHz/, /\d dB, \d+\.\d % THD\n(good|doubtful) /];

  it('has something to expect of each of its lines for the library', () => {
    expect(blocks).toHaveLength(wanted.length);
  });

  it.each(wanted.map((pattern, i) => [blocks[i], pattern]))(
    'has lines for the library that run: %#',
    (code, pattern) => {
      expect(execFileSync(process.execPath, ['-e', code as string], { cwd: root, encoding: 'utf8' })).toMatch(pattern);
    },
  );

  it('leads only to files that are there', () => {
    const targets = [...readme.matchAll(/\]\(([^)#]+)\)/g)].map(([, target]) => target);
    const missing = targets.filter((target) => !/^https?:/.test(target) && !existsSync(join(root, target)));
    expect(targets.length).toBeGreaterThan(4);
    expect(missing).toEqual([]);
  });

  it('names every node', () => {
    const { 'node-red': nodeRed } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
    const names = Object.keys(nodeRed.nodes).map((type) => type.replace('bassloom-', '').replaceAll('-', ' '));
    const normal = readme.replaceAll('band-fit', 'band fit').replaceAll('-', ' ');
    expect(names.filter((name) => !new RegExp(`^\\| \\*?${name}\\*? `, 'm').test(normal))).toEqual([]);
  });
});
