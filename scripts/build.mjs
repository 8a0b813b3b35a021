// Compile to CommonJS in dist/, then put beside each node what its editor needs.
import { execFileSync } from 'node:child_process';
import { cpSync, existsSync, globSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { basename, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { deferExports } from './deferExports.mjs';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
process.chdir(root);
// What has no source any more goes; what has not changed since the last build need not be compiled again.
for (const file of globSync('dist/{lib,nodes}/**/*.*')) {
  const source = file.slice('dist/'.length);
  if (![source, source.replace(/(\.d)?\.[jt]s$/, '.ts')].some(existsSync)) rmSync(file);
}
const known = ['--incremental', '--tsBuildInfoFile', 'dist/.tsbuildinfo'];
execFileSync(process.execPath, ['node_modules/typescript/bin/tsc', '-p', 'tsconfig.json', ...known], {
  stdio: 'inherit',
});
// What a program takes from the library is loaded when it is first used: all of it is several hundred files.
const face = 'dist/lib/index.js';
writeFileSync(face, deferExports(readFileSync(face, 'utf8')));
// Of the chart library users get the parts that are drawn with, and its licence, which asks to be passed on.
await build({
  entryPoints: ['lib/report/charts/chartLibrary.mjs'],
  outdir: 'dist/lib/report/charts',
  outExtension: { '.js': '.mjs' },
  bundle: true,
  minify: true,
  format: 'esm',
  platform: 'node',
  target: 'node22',
  define: { 'process.env.NODE_ENV': '"production"' },
  legalComments: 'eof',
  logLevel: 'warning',
});
for (const file of ['echarts/LICENSE', 'echarts/NOTICE', 'echarts/licenses/LICENSE-d3', 'zrender/LICENSE']) {
  cpSync(join('node_modules', file), join('dist/licences', file.replace('/licenses', '')));
}
cpSync('lib/report/picture/font', 'dist/lib/report/picture/font', { recursive: true });
for (const file of globSync('nodes/**/*.{html,json,js,svg}')) {
  const to = join('dist', file);
  mkdirSync(dirname(to), { recursive: true });
  cpSync(file, to);
}
// The editor checks numbers as the runtime does.
const require = createRequire(import.meta.url);
for (const file of globSync('dist/nodes/*/*.js')) require(join(root, file));
const { declared } = require('../dist/nodes/define.js');
const { splitNumbers } = require('../dist/nodes/splitNumbers.js');
const limits = [...declared].map(([type, fields]) => [
  type,
  Object.fromEntries(
    Object.entries(fields)
      .filter(([, field]) => field.limits)
      .map(([name, { limits, isList }]) => [name, { ...limits, isList }]),
  ),
]);
const editor = 'dist/nodes/editor/editor.html';
const html = readFileSync(editor, 'utf8')
  .replace('/* limits */ {}', () => JSON.stringify(Object.fromEntries(limits)))
  .replace('/* splitNumbers */ null', () => String(splitNumbers));
writeFileSync(editor, html);
// Flows become the package's examples, where Node-RED's import dialog finds them.
rmSync('examples', { recursive: true, force: true });
for (const file of globSync('flows/*/*.json')) {
  mkdirSync('examples', { recursive: true });
  cpSync(file, join('examples', basename(file)));
}
if (existsSync('flows/demo/session')) cpSync('flows/demo/session', 'dist/demo/session', { recursive: true });
// The shapes of curves and findings, for programs.
const { curveJsonSchema, findingsJsonSchema, recordingJsonSchema } = require('../dist/lib/model/jsonSchemas.js');
mkdirSync('dist/schemas', { recursive: true });
writeFileSync('dist/schemas/curve.schema.json', `${JSON.stringify(curveJsonSchema(), null, 2)}\n`);
writeFileSync('dist/schemas/recording.schema.json', `${JSON.stringify(recordingJsonSchema(), null, 2)}\n`);
writeFileSync('dist/schemas/findings.schema.json', `${JSON.stringify(findingsJsonSchema(), null, 2)}\n`);
const { folderJsonSchema } = require('../dist/nodes/import/folderSchema.js');
writeFileSync('dist/schemas/bassloom.schema.json', `${JSON.stringify(folderJsonSchema(), null, 2)}\n`);
