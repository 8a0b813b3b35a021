import { execFileSync } from 'node:child_process';
import { existsSync, globSync, readFileSync, statSync } from 'node:fs';
import { builtinModules } from 'node:module';
import { dirname, join, resolve } from 'node:path';
import { expect, test } from 'vitest';

/* What others install: the package as it is packed, and what it depends on. */

const root = resolve(import.meta.dirname, '../..');
const pkg = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));

/** The folder of a package as it is found from another's. */
function folderOf(name: string, from: string): string | undefined {
  const folder = join(from, 'node_modules', name);
  if (existsSync(join(folder, 'package.json'))) return folder;
  return dirname(from) === from ? undefined : folderOf(name, dirname(from));
}

/** Folders of all that a package depends on; of optional ones those that are there. */
function dependencies(folder: string, found = new Set<string>()): Set<string> {
  const needs = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
  for (const name of Object.keys({ ...needs.dependencies, ...needs.optionalDependencies })) {
    const at = folderOf(name, folder);
    if (at === undefined && needs.optionalDependencies?.[name] === undefined) throw new Error(`${name} is missing`);
    if (at === undefined || found.has(at)) continue;
    found.add(at);
    dependencies(at, found);
  }
  return found;
}

function bytesIn(folder: string): number {
  const own = globSync('**/*', { cwd: folder, exclude: (name) => name === 'node_modules' });
  const files = own.map((name) => statSync(join(folder, name))).filter((one) => one.isFile());
  return files.reduce((sum, { size }) => sum + size, 0);
}

test('what a user installs is under 20 MB', () => {
  const packing = ['pack', '--dry-run', '--json', '--ignore-scripts'];
  const packed = JSON.parse(execFileSync('npm', packing, { cwd: root, encoding: 'utf8', stdio: 'pipe' }));
  const [{ unpackedSize, files }] = Object.values(packed) as { unpackedSize: number; files: { path: string }[] }[];
  const paths = files.map(({ path }) => path);
  expect(paths).toContain('dist/lib/report/charts/chartLibrary.mjs');
  expect(paths).toEqual(
    expect.arrayContaining(['echarts/LICENSE', 'echarts/NOTICE'].map((one) => `dist/licences/${one}`)),
  );
  const sizes = [...dependencies(root)].map((folder) => [folder, bytesIn(folder)] as const);
  const all = sizes.reduce((sum, [, size]) => sum + size, unpackedSize);
  expect(all, JSON.stringify(sizes)).toBeLessThan(20e6);
});

test('what is installed asks for nothing but what it depends on', () => {
  const known = new Set([...Object.keys(pkg.dependencies), ...builtinModules]);
  const asked = globSync('dist/**/*.{js,mjs}', { cwd: root }).flatMap((file) => {
    const code = readFileSync(join(root, file), 'utf8');
    return [...code.matchAll(/\b(?:require\(|from ?|import\(?)["']([^."'][^"'\n]*)["']/g)].flatMap(([, name]) => {
      const plain = name.replace(/^node:/, '');
      const [scope, rest] = plain.split('/');
      return known.has(plain) || known.has(scope.startsWith('@') ? `${scope}/${rest}` : scope)
        ? []
        : [`${file}: ${name}`];
    });
  });
  expect(asked).toEqual([]);
});

test('the types of the library need none but its own and those of Node.js', () => {
  const seen = new Set<string>();
  const foreign: string[] = [];
  const read = (file: string): void => {
    if (seen.has(file)) return;
    seen.add(file);
    for (const [, name] of readFileSync(file, 'utf8').matchAll(/(?:from |import\()['"]([^'"]+)['"]/g)) {
      const at = join(dirname(file), name);
      if (name.startsWith('.')) read(existsSync(`${at}.d.ts`) ? `${at}.d.ts` : join(at, 'index.d.ts'));
      else if (!name.startsWith('node:') && !(name in pkg.dependencies)) foreign.push(`${file}: ${name}`);
    }
  };
  read(join(root, 'dist/lib/index.d.ts'));
  expect(seen.size).toBeGreaterThan(50);
  expect(foreign).toEqual([]);
});

test('a program loads what it uses of the library, and charts only when something is drawn', () => {
  const script = `
    const loaded = () => Object.keys(require.cache).map((file) => file.replaceAll('\\\\', '/'));
    const lib = require(${JSON.stringify(join(root, 'dist/lib'))});
    const first = loaded();
    const names = Object.keys(lib).length;
    const curve = lib.makeCurve({ frequencyHz: [10, 20, 40, 80, 160], levelDb: [70, 80, 80, 80, 80] });
    lib.fitBand(curve);
    const fitted = loaded();
    const { html } = lib.buildReport({ topic: 'A', measurements: [curve], findings: {} });
    console.log(JSON.stringify({ first, names, fitted, isDrawn: html.includes('<path') }));`;
  const told = JSON.parse(execFileSync(process.execPath, ['-e', script], { encoding: 'utf8' }));
  expect(told.names).toBeGreaterThan(100);
  expect(told.first.length).toBeLessThan(30);
  expect(told.fitted.filter((file: string) => /chartLibrary|\/zod\/|\/report\/charts\//.test(file))).toEqual([]);
  expect(told.isDrawn).toBe(true);
});

test('names can be imported from an ES module', () => {
  const face = JSON.stringify(join(root, 'dist/lib/index.js'));
  const script = `import { BassloomError, fitBand, renderChart } from ${face}; console.log([BassloomError, fitBand, renderChart].map((one) => typeof one).join())`;
  const told = execFileSync(process.execPath, ['--input-type=module', '-e', script], { encoding: 'utf8' });
  expect(told.trim()).toBe('function,function,function');
});
