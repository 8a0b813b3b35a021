import { execFileSync } from 'node:child_process';
import { globSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '..');

/** Every arrow of a tree that breaks a rule, as 'rule: from -> to'. */
function violations(folder: string): string[] {
  const args = ['lib', 'nodes', '--config', join(root, '.dependency-cruiser.cjs'), '--output-type', 'json'];
  const run = () =>
    execFileSync(process.execPath, [join(root, 'node_modules/.bin/depcruise'), ...args], {
      cwd: folder,
      encoding: 'utf8',
      maxBuffer: 1 << 28,
    });
  const { summary } = JSON.parse(outputOf(run));
  return summary.violations.map(
    ({ rule, from, to }: { rule: { name: string }; from: string; to: string }) => `${rule.name}: ${from} -> ${to}`,
  );
}

/** It exits non-zero where there are violations, and prints them all the same. */
function outputOf(run: () => string): string {
  try {
    return run();
  } catch (problem) {
    return (problem as { stdout: string }).stdout;
  }
}

describe('the house', () => {
  it('has arrows that run one way only', () => {
    expect(violations(root)).toEqual([]);
  });

  describe('refuses', () => {
    const tried: [rule: string, file: string, text: string, asked: string][] = [
      ['words-looks-up', 'lib/words/a.ts', "import '../analysis/fit';", 'lib/analysis/fit.ts'],
      ['words-know-the-model-only', 'lib/words/b.ts', "import 'node:fs';", 'fs'],
      ['wav-looks-up', 'lib/wav/a.ts', "import '../import/text';", 'lib/import/text.ts'],
      ['wav-looks-up', 'lib/wav/b.ts', "import type { Y } from '../signal/y'; export type X = Y;", 'lib/signal/y.ts'],
      ['signal-looks-up', 'lib/signal/a.ts', "import '../response/smooth';", 'lib/response/smooth.ts'],
      ['room-looks-up', 'lib/room/a.ts', "export * from '../rig/bench';", 'lib/rig/bench.ts'],
      ['analysis-looks-up', 'lib/analysis/a.ts', "import '../index';", 'lib/index.ts'],
      ['response-looks-up', 'lib/response/a.ts', "export const b = () => import('../../nodes/b');", 'nodes/b.ts'],
      ['report-looks-up', 'lib/report/a.ts', "import '../work/queue';", 'lib/work/queue.ts'],
      ['library-knows-node-red', 'lib/model/a.ts', "import 'node-red';", 'node_modules/node-red/index.js'],
      ['room-without-floor', 'nodes/c.ts', "import '../lib/attic/box';", 'lib/attic/box.ts'],
      ['unresolvable', 'lib/model/b.ts', "import './nowhere';", './nowhere'],
      [
        'circular',
        'lib/rig/one.ts',
        "import type { Two } from './two'; export interface One { two: Two }",
        'lib/rig/two.ts',
      ],
    ];
    const folder = mkdtempSync(join(tmpdir(), 'bassloom-house-'));
    const write = (file: string, text: string) => {
      mkdirSync(dirname(join(folder, file)), { recursive: true });
      writeFileSync(join(folder, file), text);
    };
    afterAll(() => rmSync(folder, { recursive: true, force: true }));
    for (const [, , , asked] of tried) if (asked.endsWith('.ts')) write(asked, 'export type Y = 1;\n');
    for (const [, file, text] of tried) write(file, `${text}\n`);
    write('lib/rig/two.ts', "import type { One } from './one';\nexport interface Two { one: One }\n");
    write('node_modules/node-red/index.js', '');
    write('node_modules/node-red/package.json', '{"name": "node-red", "version": "1.0.0", "main": "index.js"}');
    write('package.json', '{"dependencies": {"node-red": "*"}}');
    write('tsconfig.json', '{"compilerOptions": {"module": "commonjs"}, "include": ["lib", "nodes"]}');
    let found: string[] | undefined;

    it.each(tried)('%s: %s, %s', (rule, file, _text, asked) => {
      found ??= violations(folder);
      expect(found).toContain(`${rule}: ${file} -> ${asked}`);
    });
  });
});

describe('words', () => {
  const sources = globSync(['lib/**/*.ts', 'nodes/**/*.ts'], { cwd: root })
    .map((file) => file.replaceAll('\\', '/'))
    .filter((file) => !file.startsWith('lib/words/'));
  const linesWith = (pattern: RegExp) =>
    sources.flatMap((file) =>
      readFileSync(join(root, file), 'utf8')
        .split('\n')
        .flatMap((line, i) => (pattern.test(line) ? [`${file}:${i + 1}: ${line.trim()}`] : [])),
    );

  it('have a code: no sentence is wrapped without one', () => {
    expect(linesWith(/\b(said|asCaveats)\(/)).toEqual([]);
  });

  it('of refusals stand in the catalogue', () => {
    // import still writes its own; a refusal of another thread is only put together again
    const own = /^lib\/(import|model)\//;
    const made = /new BassloomError\((?!code, message, about\))|from '.*model\/refuse'/;
    expect(linesWith(made).filter((line) => line.startsWith('lib/') && !own.test(line))).toEqual([]);
  });

  it('are read by people only: nothing looks into the message of a caveat', () => {
    const look = String.raw`\.(match|matchAll|test|exec|search|includes|startsWith|endsWith|indexOf|replace|split)\(`;
    const compared = String.raw`\.message\??\s*(===|!==|<|>)`;
    expect(linesWith(new RegExp(String.raw`\.message\??${look}|${look}[^)]*\.message\b|${compared}`))).toEqual([]);
  });
});
