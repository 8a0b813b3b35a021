// Deconvolution of a 24 s, 48 kHz capture against scipy's plain division at the full rate. What a session does: one
// stimulus, whose spectrum is kept after its first capture, and captures that all differ. Every round has each task
// once and scipy once, so that a busy machine slows all alike; ratios are medians over the rounds, of time and of
// processor time (of all threads: Node's compiler and collector have their own). `npm run build` first; then
//   node --expose-gc bench/deconvolution.mjs [rounds]
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';

const here = dirname(fileURLToPath(import.meta.url));
const dist = process.env.BASSLOOM_DIST ?? join(here, '..', 'dist');
const require = createRequire(import.meta.url);
const { biquad, deconvolveCapture, decodeWav, makeRecording, makeSweep, runBiquads, writeWav } = require(
  join(dist, 'lib/index.js'),
);

const rounds = Number(process.argv[2] ?? 15);
const warmUp = 12;
const sampleRateHz = 48_000;
const stimulus = makeSweep({ startHz: 5, endHz: 400, seconds: 20, sampleRateHz });
const played = Float64Array.from(decodeWav(stimulus).channels[0]);
// a unit of 22 to 150 Hz with a little curvature, late by 15 ms, in noise
const through = runBiquads(played, [
  biquad({ kind: 'high-pass', hz: 22 }, sampleRateHz),
  biquad({ kind: 'low-pass', hz: 150 }, sampleRateHz),
]);
const heardIn = (take) => {
  const heard = new Float64Array(24 * sampleRateHz);
  for (let n = 720; n < heard.length; n++) {
    const x = (1 + 0.1 * take) * through[n - 720];
    heard[n] = x + 0.1 * x * x + 0.2 * x ** 3 + 1e-4 * Math.sin(12.9898 * n * n + take);
  }
  return heard;
};
const takes = [0, 1, 2, 3, 4].map(heardIn);
const captures = takes.map((heard) =>
  makeRecording(writeWav({ sampleRateHz, channels: [heard] }, { format: 'pcm24' })),
);

function timed(work) {
  const [start, used] = [process.hrtime.bigint(), process.cpuUsage()];
  work();
  const { user, system } = process.cpuUsage(used);
  return { ms: Number(process.hrtime.bigint() - start) / 1e6, cpu: (user + system) / 1e3 };
}
const median = (values) => [...values].sort((a, b) => a - b)[values.length >> 1];
const number = (value, digits = 1) => value.toFixed(digits).padStart(8);

const tasks = {
  'response, five harmonics, noise': (i) => deconvolveCapture(captures[i % 5], stimulus),
  'response and noise alone': (i) => deconvolveCapture(captures[i % 5], stimulus, { harmonics: 1 }),
};
globalThis.gc?.();
const before = process.memoryUsage().rss;
const cold = Object.values(tasks).map((work) => timed(() => work(0)));
const folder = mkdtempSync(join(tmpdir(), 'bassloom-'));
let scipy;
try {
  const files = [takes[0], played].map((samples, i) => {
    const file = join(folder, `${i}`);
    writeFileSync(file, Buffer.from(samples.buffer));
    return file;
  });
  scipy = spawn('/usr/bin/python3', [join(here, 'deconvolution.py'), ...files], { stdio: ['pipe', 'pipe', 'inherit'] });
  const lines = createInterface({ input: scipy.stdout })[Symbol.asyncIterator]();
  const next = async () => JSON.parse((await lines.next()).value);
  const versions = await next();
  const divide = () => {
    scipy.stdin.write('\n');
    return next();
  };
  const taken = Object.keys(tasks).map(() => []);
  const theirs = [];
  for (let i = 0; i < warmUp; i++) for (const work of Object.values(tasks)) work(i);
  for (let round = 0; round < rounds; round++) {
    Object.values(tasks).forEach((work, t) => {
      taken[t].push(timed(() => work(round)));
    });
    theirs.push(await divide());
  }
  console.log(`24 s at 48 kHz, node ${process.version}, scipy ${versions.scipy}, numpy ${versions.numpy}`);
  console.log(
    `medians of ${rounds} rounds, same stimulus, differing captures:        ms     CPU ms   ratio  CPU ratio`,
  );
  const of = (runs, key) => median(runs.map((run) => run[key]));
  const ratio = (runs, key) => median(runs.map((run, i) => run[key] / theirs[i][key]));
  console.log(
    `  ${"scipy's plain division, 2^21".padEnd(48)}${number(of(theirs, 'ms'))}   ${number(of(theirs, 'cpu'))}`,
  );
  Object.keys(tasks).forEach((name, t) => {
    const runs = taken[t];
    const ratios = `${number(ratio(runs, 'ms'), 2)}   ${number(ratio(runs, 'cpu'), 2)}`;
    console.log(`  ${name.padEnd(48)}${number(of(runs, 'ms'))}   ${number(of(runs, 'cpu'))}${ratios}`);
  });
  Object.keys(tasks).forEach((name, t) => {
    console.log(`  ${`first call, ${name}`.padEnd(48)}${number(cold[t].ms)}   ${number(cold[t].cpu)}`);
  });
  console.log(`  memory over what was there before the first call, most in ten captures: ${memory().toFixed(0)} MB`);
} finally {
  scipy?.stdin.end();
  rmSync(folder, { recursive: true, force: true });
}

/** Growth of the resident set, stimulus, plans and code included; with --expose-gc it is what cannot be given back. */
function memory() {
  globalThis.gc?.();
  let most = 0;
  for (let i = 0; i < 10; i++) {
    tasks['response, five harmonics, noise'](i);
    most = Math.max(most, process.memoryUsage().rss - before);
  }
  return most / 1e6;
}
