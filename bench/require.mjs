// Time to `require` the library, against a process that requires nothing, and what a program pays that uses all of it:
// medians over alternating processes. Target: at most 120 ms. `npm run build` first; then
//   node bench/require.mjs [runs]
import { execFileSync } from 'node:child_process';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const lib = JSON.stringify(join(dirname(fileURLToPath(import.meta.url)), '../dist/lib'));
const runs = Number(process.argv[2] ?? 15);
const median = (values) => values.sort((a, b) => a - b)[values.length >> 1];

const cases = {
  'nothing, the whole process': '',
  'require, the whole process': `require(${lib})`,
  'require alone': `const t = performance.now(); require(${lib}); console.log(performance.now() - t)`,
  'require and every name read': `const t = performance.now(); ({ ...require(${lib}) }); console.log(performance.now() - t)`,
};
const times = Object.fromEntries(Object.keys(cases).map((name) => [name, []]));
for (let run = 0; run <= runs; run++) {
  for (const [name, script] of Object.entries(cases)) {
    const begun = performance.now();
    const told = execFileSync(process.execPath, ['-e', script], { encoding: 'utf8' });
    // the first finds the files in no cache
    if (run > 0) times[name].push(told ? Number(told) : performance.now() - begun);
  }
}
for (const [name, values] of Object.entries(times)) console.log(`${name}: ${median(values).toFixed(0)} ms`);
