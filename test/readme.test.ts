import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '..');
const readme = readFileSync(join(root, 'README.md'), 'utf8');

describe('the README', () => {
  it('has lines for the library that run as they stand', () => {
    const code = /```js\n([\s\S]*?)```/.exec(readme)?.[1] as string;
    const printed = execFileSync(process.execPath, ['-e', code], { cwd: root, encoding: 'utf8' });
    expect(printed).toMatch(/onsetDriveDb/);
    expect(printed).toMatch(/lowHz/);
  });

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
