import { globSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { basename, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';

/*
 * What Node-RED's package scorecard asks for (https://nodered.org/docs/creating-nodes/, packaging and help style), and
 * what a dialog must have so that it can be translated and used without a mouse.
 */

const root = resolve(import.meta.dirname, '../..');
const require = createRequire(import.meta.url);
const pkg = require('../../package.json');
const read = (path: string) => readFileSync(resolve(root, path), 'utf8');
const types: string[] = Object.keys(pkg['node-red'].nodes);
const folderOf = (type: string) => type.replace('bassloom-', '');

interface NodeDefinition {
  category: string;
  color?: string;
  icon?: string;
  defaults: Record<string, { value: unknown; type?: string; required?: boolean }>;
  inputs?: number;
  outputs?: number;
  label: unknown;
  paletteLabel: unknown;
}

describe('the package', () => {
  test('has licence, repository, keyword, scope and the versions it needs', () => {
    expect(pkg.license).toBe('Apache-2.0');
    expect(read('LICENSE')).toContain('Apache License');
    expect(pkg.repository ?? pkg.bugs).toBeTruthy();
    expect(pkg.keywords).toContain('node-red');
    expect(pkg.name).toMatch(/^@[\w-]+\/node-red-[\w-]+$/);
    expect(pkg['node-red'].version).toBe('>=4.1.0');
    expect(Number(/\d+/.exec(pkg.engines.node)?.[0])).toBeGreaterThanOrEqual(20);
    expect(pkg.files).toEqual(expect.arrayContaining(['dist', 'examples']));
  });

  test('has at most six dependencies and runs nothing when it is installed by others', () => {
    expect(Object.keys(pkg.dependencies).length).toBeLessThanOrEqual(6);
    for (const script of ['preinstall', 'install', 'postinstall']) expect(pkg.scripts).not.toHaveProperty(script);
  });

  test('names every node by its folder, with a prefix of its own', () => {
    for (const type of types) {
      expect(type).toMatch(/^bassloom-[a-z-]+$/);
      expect(pkg['node-red'].nodes[type]).toBe(`dist/nodes/${folderOf(type)}/${folderOf(type)}.js`);
    }
    const folders = globSync('nodes/*/*.html', { cwd: root }).map((path) => basename(path, '.html'));
    expect([...types.map(folderOf), 'curves', 'editor'].sort()).toEqual(folders.sort());
  });

  test('has an example flow for every node', () => {
    const flows = globSync('flows/*/*.json', { cwd: root }).map((path) => JSON.parse(read(path)));
    for (const flow of flows) expect(Array.isArray(flow)).toBe(true);
    const used = new Set(flows.flat().map((node) => node.type));
    expect(types.filter((type) => !used.has(type))).toEqual([]);
  });
});

describe.each(types)('%s', (type) => {
  const folder = folderOf(type);
  const html = read(`nodes/${folder}/${folder}.html`);
  const locale = JSON.parse(read(`nodes/${folder}/locales/en-US/${folder}.json`));
  const help = read(`nodes/${folder}/locales/en-US/${folder}.html`);
  const runtime = globSync(`nodes/${folder}/*.ts`, { cwd: root }).map(read).join('\n');
  const definition = definitionIn(html);
  const isConfig = definition.category === 'config';
  const prefix = isConfig ? 'node-config-input-' : 'node-input-';

  test('registers itself with its name and what it is as literals', () => {
    expect(html.match(/<script type="text\/javascript">/g)).toHaveLength(1);
    expect(html).toMatch(new RegExp(`RED\\.nodes\\.registerType\\('${type}', \\{\\n\\s+category: '[a-z]+',`));
    expect(html).toContain(`data-template-name="${type}"`);
    expect(definition.paletteLabel).toBeTypeOf('function');
    if (isConfig) return;
    expect(definition).toMatchObject({ category: 'bassloom', inputs: 1, outputs: 1 });
    expect(definition.color).toMatch(/^#[0-9a-f]{6}$/);
    expect(read(`nodes/${folder}/icons/${definition.icon}`)).toContain('<svg');
  });

  test('has a field with a label for every setting', () => {
    for (const name of Object.keys(definition.defaults)) {
      expect(html).toContain(`id="${prefix}${name}"`);
    }
    for (const [tag, id] of html.matchAll(/<(?:input|select)[^>]* id="([^"]+)"[^>]*>/g)) {
      const isNamed = html.includes(`<label for="${id}">`) || tag.includes('[aria-label]');
      expect([id, isNamed]).toEqual([id, true]);
    }
  });

  test('uses every string that its locale has, and no other', () => {
    const used = new Set([
      ...[...html.matchAll(/data-i18n="([^"]+)"/g)].flatMap(([, keys]) => keys.split(';')),
      ...[...html.matchAll(/this\._\('([^']+)'/g)].map(([, key]) => key),
      ...[...runtime.matchAll(/'((?:status|note)\.\w+)'/g)].map(([, key]) => key),
    ]);
    // what the dialog hands its words to: `words('names.more')`, `words('part.' + name)`
    if (html.includes('words: (key')) {
      const asked = [...read('nodes/editor/editor.html').matchAll(/words\('(\w+\.\w*)'/g)].map(([, start]) => start);
      const isAsked = (key: string) => asked.some((one) => (one.endsWith('.') ? key.startsWith(one) : key === one));
      for (const key of leaves(locale).filter(isAsked)) used.add(key);
    }
    const own = [...used].map((key) => key.replace(/^\[[\w-]+\]/, '')).filter((key) => !key.includes(':'));
    expect([...new Set(own)].sort()).toEqual(leaves(locale).sort());
  });

  test('has help in the usual order, which names every setting that a message may bring', () => {
    expect(help).toContain(`data-help-name="${type}"`);
    const headings = [...help.matchAll(/<h3>(\w+)<\/h3>/g)].map(([, heading]) => heading);
    const wanted = isConfig ? ['Details', 'References'] : ['Inputs', 'Outputs', 'Details', 'References'];
    expect(headings).toEqual(wanted);
    expect(help.indexOf('<p>')).toBeLessThan(help.indexOf('<h3>'));
    if (isConfig) return;
    expect(help).toContain('<dl class="message-properties">');
    const inputs = help.slice(help.indexOf('Inputs'), help.indexOf('Outputs'));
    const fixed = ['name', 'source', 'write', 'index', 'summary', 'pictures', 'useMasks', 'mustMatch', 'store'];
    const undocumented = Object.keys(definition.defaults).filter(
      (name) => !fixed.includes(name) && !new RegExp(`\\b${name}\\b`).test(inputs),
    );
    expect(undocumented).toEqual([]);
  });

  test('closes every tag of its help and dialog', () => {
    for (const text of [help, html.slice(html.indexOf('<script type="text/html"'))]) {
      const open: string[] = [];
      for (const [, slash, tag] of text.matchAll(/<(\/?)(\w+)[^>]*?>/g)) {
        if (['input', 'br'].includes(tag)) continue;
        if (slash) expect(open.pop()).toBe(tag);
        else open.push(tag);
      }
      expect(open).toEqual([]);
    }
  });

  test('does its own work in few lines', () => {
    const lines = read(`nodes/${folder}/${folder}.ts`).split('\n').length;
    expect(lines).toBeLessThanOrEqual(60);
  });
});

test('the shared strings are used, and all that are used exist', () => {
  const editor = read('nodes/editor/editor.html');
  const locale = JSON.parse(read('nodes/editor/locales/en-US/editor.json'));
  const everything = [
    editor,
    read('nodes/define.ts'),
    ...types.map((type) => read(`nodes/${folderOf(type)}/${folderOf(type)}.html`)),
  ];
  for (const key of leaves(locale)) {
    const last = key.split('.').at(-1) as string;
    expect([key, everything.some((text) => new RegExp(`['.:}]${last}['"\`]`).test(text))]).toEqual([key, true]);
  }
  const named = everything.flatMap((text) => [...text.matchAll(/bassloom-editor:(\w+)"/g)].map(([, key]) => key));
  for (const key of named) expect(leaves(locale)).toContain(key);
  for (const [, key] of editor.matchAll(/'((?:invalid\.)\w+)'/g)) expect(leaves(locale)).toContain(key);
  for (const [, key] of editor.matchAll(/return \['(\w+)'/g)) expect(leaves(locale)).toContain(`invalid.${key}`);
});

test('icons have names of their own', () => {
  const names = globSync('nodes/*/icons/*.svg', { cwd: root }).map((path) => basename(path));
  expect(new Set(names).size).toBe(names.length);
});

/** What the editor gets to see when it runs a node's script. */
function definitionIn(html: string): NodeDefinition {
  const script = /<script type="text\/javascript">([\s\S]*?)<\/script>/.exec(html)?.[1] ?? '';
  let seen: NodeDefinition | undefined;
  const RED = { nodes: { registerType: (_type: string, definition: NodeDefinition) => (seen = definition) } };
  const bassloom = new Proxy({}, { get: () => () => () => true });
  new Function('RED', 'bassloom', script)(RED, bassloom);
  return seen as NodeDefinition;
}

function leaves(tree: object, path = ''): string[] {
  return Object.entries(tree).flatMap(([key, value]) =>
    typeof value === 'object' ? leaves(value, `${path}${key}.`) : [`${path}${key}`],
  );
}
