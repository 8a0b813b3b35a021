// Deconvolution of a 24 s, 48 kHz capture against scipy's plain division at the full rate, both in one run: medians in
// ms, in turns so that a busy machine slows both alike. `npm run build` first; then
//   node --expose-gc bench/deconvolution.mjs [rounds]
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const here = dirname(fileURLToPath(import.meta.url));
const dist = process.env.BASSLOOM_DIST ?? join(here, '..', 'dist');
const require = createRequire(import.meta.url);
const { biquad, deconvolveCapture, decodeWav, makeRecording, makeSweep, runBiquads, writeWav } = require(
  join(dist, 'lib/index.js'),
);

const rounds = Number(process.argv[2] ?? 7);
const repeats = 5;
const sampleRateHz = 48_000;
const stimulus = makeSweep({ startHz: 5, endHz: 400, seconds: 20, sampleRateHz });
const played = Float64Array.from(decodeWav(stimulus).channels[0]);
// a unit of 22 to 150 Hz with a little curvature, late by 15 ms, in noise
const through = runBiquads(played, [
  biquad({ kind: 'high-pass', hz: 22 }, sampleRateHz),
  biquad({ kind: 'low-pass', hz: 150 }, sampleRateHz),
]);
const heard = new Float64Array(24 * sampleRateHz);
for (let n = 720; n < heard.length; n++) {
  const x = through[n - 720];
  heard[n] = x + 0.1 * x * x + 0.2 * x ** 3 + 1e-4 * Math.sin(12.9898 * n * n);
}
const capture = makeRecording(writeWav({ sampleRateHz, channels: [heard] }, { format: 'pcm24' }));

globalThis.gc?.();
const before = process.memoryUsage.rss();

function times(work) {
  return Array.from({ length: repeats }, () => {
    const start = process.hrtime.bigint();
    work();
    return Number(process.hrtime.bigint() - start) / 1e6;
  });
}
const median = (values) => values.sort((a, b) => a - b)[values.length >> 1];

const folder = mkdtempSync(join(tmpdir(), 'bassloom-'));
try {
  const files = [heard, played].map((samples, i) => {
    const file = join(folder, `${i}`);
    writeFileSync(file, Buffer.from(samples.buffer));
    return file;
  });
  const tasks = {
    'response, five harmonics, noise': () => deconvolveCapture(capture, stimulus),
    'response and noise alone': () => deconvolveCapture(capture, stimulus, { harmonics: 1 }),
  };
  const taken = Object.fromEntries(Object.keys(tasks).map((name) => [name, []]));
  const theirs = [];
  let versions = '';
  for (const work of Object.values(tasks)) for (let i = 0; i < 8; i++) work();
  for (let round = 0; round < rounds; round++) {
    for (const [name, work] of Object.entries(tasks)) taken[name].push(...times(work));
    const scipy = JSON.parse(
      execFileSync('/usr/bin/python3', [join(here, 'deconvolution.py'), ...files, String(repeats)]),
    );
    versions = `scipy ${scipy.scipy}, numpy ${scipy.numpy}`;
    theirs.push(scipy.ms);
  }
  const reference = median(theirs);
  console.log(`24 s at 48 kHz, node ${process.version}, ${versions}`);
  console.log(`  plain division, 2^21                ${reference.toFixed(1).padStart(7)} ms`);
  for (const [name, values] of Object.entries(taken)) {
    const ours = median(values);
    console.log(`  ${name.padEnd(34)}${ours.toFixed(1).padStart(9)} ms  ratio ${(ours / reference).toFixed(2)}`);
  }
  console.log(`  memory taken at most                ${(await memory(tasks)).toFixed(0).padStart(7)} MB`);
} finally {
  rmSync(folder, { recursive: true, force: true });
}

/** Growth of the resident set over ten runs, from before the first of all. */
async function memory(tasks) {
  let most = 0;
  for (let i = 0; i < 10; i++) {
    tasks['response, five harmonics, noise']();
    most = Math.max(most, process.memoryUsage.rss() - before);
  }
  return most / 1e6;
}
