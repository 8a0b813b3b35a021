// How smooth Node-RED's event loop stays while ten captures of 24 s at 48 kHz are deconvolved in a flow: its delay, and
// how late the messages of a train with one every 5 ms arrive. The same is measured with nothing to do, in turns.
// Medians over the runs; targets while ten run: p99 of the delay <= 6 ms, no message late by more than 25 ms.
// Beside it, since other programs on the machine make anything late: the longest stretch of work of the main thread
// between two messages of the train, by its processor time (where Node tells it).
// The first run of a fresh Node-RED, which also loads the library and starts the workers, is told apart.
// `npm run build` first; then
//   node bench/eventLoop.mjs [runs]
import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const library = createRequire(import.meta.url)(join(root, 'dist/lib/index.js'));
const runs = Number(process.argv[2] ?? 7);
const CAPTURES = 10;
const SWEEP = { startHz: 5, endHz: 400, seconds: 20, sampleRateHz: 48000 };
const WHAT = ['idle', 'one message', 'ten messages'];

/** A capture of the sweep through a second-order high-pass, with some distortion and noise. */
function captureOf(stimulus, number) {
  const [played] = library.decodeWav(stimulus).channels;
  const highPass = library.biquad({ kind: 'high-pass', hz: 25 }, SWEEP.sampleRateHz);
  const heard = library.runBiquads(
    Float64Array.from(played, (x) => x + 0.02 * x * x),
    [highPass],
  );
  let state = number + 1;
  const samples = heard.map((x) => {
    state = (state * 48271) % 0x7fffffff;
    return 0.5 * x + 1e-4 * (state / 0x7fffffff - 0.5);
  });
  return library.writeWav({ sampleRateHz: SWEEP.sampleRateHz, channels: [samples] }, { format: 'pcm24' });
}

/** Runs in Node-RED's own process: measures, and makes the messages. */
function inside(folder, library, captures) {
  const { monitorEventLoopDelay } = require('node:perf_hooks');
  const { readFileSync } = require('node:fs');
  const EVERY_MS = 5;
  const read = (name, role) => library.readWav(readFileSync(`${folder}/${name}.wav`), { name, role }).recording;
  let state;
  return {
    stimulus: () => read('stimulus', 'stimulus'),
    captures: () => Array.from({ length: captures }, (_, i) => ({ ...read(`${i}`, 'capture'), about: { driveDb: i } })),
    begin() {
      const [fine, coarse] = [1, 10].map((resolution) => monitorEventLoopDelay({ resolution }));
      state = { fine, coarse, latestMs: 0, blockMs: 0, from: performance.now(), arrived: 0 };
      fine.enable();
      coarse.enable();
    },
    end(what) {
      const { fine, coarse, latestMs, blockMs, from } = state;
      fine.disable();
      coarse.disable();
      const p99 = fine.percentile(99) / 1e6;
      const p99Coarse = coarse.percentile(99) / 1e6 - 10;
      console.log(
        `RUN ${JSON.stringify({ what, p99, p99Coarse, latestMs, blockMs, tookMs: performance.now() - from })}`,
      );
    },
    /** Send something at every multiple of 5 ms, with the time it was due. */
    train(send) {
      let due = performance.now();
      const tick = () => {
        const now = performance.now();
        if (now >= due) {
          send({ due });
          due += EVERY_MS * Math.max(1, Math.floor((now - due) / EVERY_MS) + 1);
        }
        setTimeout(tick, Math.max(1, due - performance.now()));
      };
      tick();
    },
    listen({ due }) {
      const { user = 0, system = 0 } = process.threadCpuUsage?.() ?? {};
      const worked = (user + system) / 1000;
      if (state) {
        state.latestMs = Math.max(state.latestMs, performance.now() - due);
        state.blockMs = Math.max(state.blockMs, worked - state.worked || 0);
        state.worked = worked;
      }
    },
    arrived(payload) {
      state.arrived += payload.filter(({ role }) => role === 'response').length;
      return state.arrived === captures;
    },
  };
}

const bench = 'const bench = global.get("bench");';
const wire = (id, type, wires, more) => ({ id, type, z: 'tab', x: 1, y: 1, wires: [wires], ...more });
const flow = [
  { id: 'tab', type: 'tab' },
  wire('train', 'function', ['listen'], { func: '', initialize: `${bench} bench.train((msg) => node.send(msg));` }),
  wire('listen', 'function', [], { func: `${bench} bench.listen(msg);` }),
  wire('go', 'http in', ['work', 'answer'], { url: '/go/:what', method: 'post' }),
  wire('answer', 'function', ['response'], { func: 'return { res: msg.res, payload: "ok" };' }),
  wire('response', 'http response', []),
  wire('work', 'function', ['deconvolve'], {
    func: `${bench}
      const { what } = msg.req.params;
      const captures = context.captures ??= bench.captures();
      const stimulus = context.stimulus ??= bench.stimulus();
      const start = () => {
        bench.begin();
        if (what === 'idle') setTimeout(() => bench.end(what), 2000);
        if (what === 'one message') node.send({ what, payload: [stimulus, ...captures] });
        if (what === 'ten messages') for (const capture of captures) node.send({ what, payload: [stimulus, capture] });
      };
      setTimeout(start, 500);`,
  }),
  // two wires, so that what comes out is cloned as it would be in a flow
  wire('deconvolve', 'bassloom-deconvolve', ['sink', 'other'], { source: 'message' }),
  wire('sink', 'function', [], { func: `${bench} if (bench.arrived(msg.payload)) bench.end(msg.what);` }),
  wire('other', 'function', [], { func: '' }),
];

function prepare() {
  const folder = mkdtempSync(join(tmpdir(), 'bassloom-bench-'));
  const stimulus = library.makeSweep(SWEEP);
  writeFileSync(join(folder, 'stimulus.wav'), stimulus.wav);
  for (let i = 0; i < CAPTURES; i++) writeFileSync(join(folder, `${i}.wav`), captureOf(stimulus, i));
  const scope = join(folder, 'node_modules/@bassloom');
  mkdirSync(scope, { recursive: true });
  symlinkSync(root, join(scope, 'node-red-bassloom'), 'junction');
  writeFileSync(join(folder, 'flows.json'), JSON.stringify(flow));
  const lib = `require(${JSON.stringify(join(root, 'dist/lib/index.js'))})`;
  writeFileSync(
    join(folder, 'settings.js'),
    `const inside = ${inside};
    module.exports = { uiHost: '127.0.0.1', uiPort: Number(process.env.PORT), flowFile: 'flows.json', telemetry: { enabled: false },
      functionGlobalContext: { get bench() { return (this.kept ??= inside(__dirname, ${lib}, ${CAPTURES})); } } };`,
  );
  return folder;
}

async function start(folder) {
  const { choosePort } = await import('../scripts/nodeRed.mjs');
  const port = await choosePort();
  const child = spawn(process.execPath, [join(root, 'node_modules/node-red/red.js'), '--userDir', folder], {
    env: { ...process.env, PORT: String(port) },
  });
  let log = '';
  let waiting = () => {};
  for (const stream of [child.stdout, child.stderr]) {
    stream.on('data', (text) => {
      log += text;
      waiting();
    });
  }
  const said = (pattern) =>
    new Promise((found, failed) => {
      const look = () => {
        const match = pattern.exec(log);
        if (match) found(match);
        if (child.exitCode !== null) failed(new Error(`Node-RED ended:\n${log}`));
      };
      const late = setTimeout(() => failed(new Error(`Nothing came of it:\n${log}`)), 120_000);
      waiting = () => {
        look();
      };
      look();
      late.unref();
    });
  await said(/Started flows/);
  return {
    async run(what) {
      log = '';
      await fetch(`http://127.0.0.1:${port}/go/${what}`, { method: 'POST' });
      const [, result] = await said(/RUN (\{.*\})/);
      return JSON.parse(result);
    },
    stop: () => child.kill('SIGKILL'),
  };
}

const median = (values) => values.toSorted((a, b) => a - b)[values.length >> 1];

function tell(name, results) {
  const of = (key) => median(results.map((result) => result[key]));
  const most = Math.max(...results.map(({ latestMs }) => latestMs));
  console.log(
    `${name.padEnd(22)} p99 ${of('p99').toFixed(1)} ms (every 10 ms: ${of('p99Coarse').toFixed(1)} ms), latest message ` +
      `${of('latestMs').toFixed(1)} ms (worst ${most.toFixed(1)}), longest work ${of('blockMs').toFixed(1)} ms, took ${(of('tookMs') / 1000).toFixed(2)} s`,
  );
}

const folder = prepare();
let red;
try {
  red = await start(folder);
  await red.run('idle');
  tell('first, one message', [await red.run('one message')]);
  const results = Object.fromEntries(WHAT.map((what) => [what, []]));
  for (let run = 0; run < runs; run++) for (const what of WHAT) results[what].push(await red.run(what));
  for (const what of WHAT) tell(what, results[what]);
} finally {
  red?.stop();
  rmSync(folder, { recursive: true, force: true });
}
