// Time to read text files, and how it grows: one of 1,000 rows is the yardstick other times are given in.
// Medians within one run. Run: npm run build && node bench/import.mjs [path of another compiled library]
import { createRequire } from 'node:module';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const library = createRequire(import.meta.url)(resolve(process.argv[2] ?? join(root, 'dist/lib/index.js')));
const { importText, writeText } = library;

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

function median(work, rounds) {
  const times = Array.from({ length: rounds }, () => {
    const start = performance.now();
    work();
    return performance.now() - start;
  });
  return times.sort((a, b) => a - b)[rounds >> 1];
}

const ways = {
  'commas, points': [',', '.'],
  'semicolons, commas': [';', ','],
  tabs: ['\t', '.'],
  blanks: ['   ', '.'],
  'quoted commas': [',', '.', '"'],
};
for (const [name, way] of Object.entries(ways)) {
  const small = text(1000, ...way);
  median(() => importText(small), 100); // let the engine warm up
  const one = median(() => importText(small), 100);
  const big = text(1_000_000, ...way);
  const million = median(() => importText(big), 3);
  console.log(`${name.padEnd(20)} 1,000 rows ${one.toFixed(2)} ms   1,000,000 rows ${(million / 1000).toFixed(2)} s`);
}
const { curve } = importText(text(1000, ',', '.'));
console.log(`write 1,000 rows ${median(() => writeText(curve), 100).toFixed(2)} ms`);
console.log(`most memory held ${Math.round(process.resourceUsage().maxRSS / 1024)} MiB`);
