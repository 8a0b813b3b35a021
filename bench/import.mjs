// Time and memory to read text files: a million rows against papaparse's own parse of the same text, and one of 1,000 rows,
// the yardstick other times are given in. Medians within one run, in turns; each million in a process of its own.
// Run: npm run build && node bench/import.mjs [path of another compiled library]
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const [libraryPath = join(root, 'dist/lib/index.js'), million, delimiter] = process.argv.slice(2);
const require = createRequire(import.meta.url);
const { importText, writeText } = require(resolve(libraryPath));
const Papa = require('papaparse');
const ROUNDS = 3;

const ways = {
  'commas, points': [',', '.'],
  'semicolons, commas': [';', ','],
  tabs: ['\t', '.'],
  blanks: ['   ', '.'],
  'quoted commas': [',', '.', '"'],
};

function text(rows, delimiter, decimal, quote = '') {
  const cell = (value, digits) => quote + value.toFixed(digits).replace('.', decimal) + quote;
  const lines = ['Frequency (Hz)', 'SPL (dB)', 'Phase (deg)'].map((heading) => `"${heading}"`).join(delimiter);
  return Buffer.from(
    [
      lines,
      ...Array.from({ length: rows }, (_, i) =>
        [cell(10 + i * 0.37, 4), cell(80 + 10 * Math.sin(i / 50), 3), cell(180 * Math.sin(i / 30), 2)].join(delimiter),
      ),
    ].join('\n'),
  );
}

function timeOf(work) {
  const start = performance.now();
  work();
  return performance.now() - start;
}

const median = (values) => values.toSorted((a, b) => a - b)[values.length >> 1];
const mebibytes = () => Math.round(process.resourceUsage().maxRSS / 1024);

if (million) readMillion();
else {
  readSmall();
  const folder = mkdtempSync(join(tmpdir(), 'bench-'));
  for (const [name, way] of Object.entries(ways)) {
    const file = join(folder, 'million.txt');
    writeFileSync(file, text(1_000_000, ...way));
    const { stdout, stderr } = spawnSync(process.execPath, [fileURLToPath(import.meta.url), libraryPath, file, way[0]]);
    console.log(`${name.padEnd(20)} 1,000,000 rows ${stdout}${stderr}`);
  }
  rmSync(folder, { recursive: true });
}

function readSmall() {
  for (const [name, way] of Object.entries(ways)) {
    const small = text(1000, ...way);
    const times = Array.from({ length: 200 }, () => timeOf(() => importText(small)));
    console.log(`${name.padEnd(20)} 1,000 rows ${median(times.slice(100)).toFixed(2)} ms`);
  }
  const { curve } = importText(text(1000, ',', '.'));
  const times = Array.from({ length: 200 }, () => timeOf(() => writeText(curve)));
  console.log(`write 1,000 rows ${median(times.slice(100)).toFixed(2)} ms`);
}

/** Memory first: papaparse holds all cells at once, and would hide what reading takes. */
function readMillion() {
  const bytes = readFileSync(million);
  const times = [timeOf(() => importText(bytes))];
  const memory = mebibytes();
  const papa = [];
  for (let round = 0; round < ROUNDS; round++) {
    const whole = bytes.toString();
    papa.push(timeOf(() => Papa.parse(whole, { delimiter: delimiter === '   ' ? ' ' : delimiter })));
    times.push(timeOf(() => importText(bytes)));
  }
  const [one, other] = [median(times), median(papa)];
  process.stdout.write(
    `${one.toFixed(0)} ms, papaparse alone ${other.toFixed(0)} ms, ratio ${(one / other).toFixed(2)} (target <= 2), ${memory} MiB (target < 400)`,
  );
}
