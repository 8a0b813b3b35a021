// A session of 22 files from text to findings, against the time that parsing the files alone takes; and ten sessions
// against one. Ratios of medians within one run; targets: at most 3, and at most 11. What papaparse takes for its own parse
// of the same texts stands beside it, since importText becomes faster too and would then be the stricter measure.
// Run: npm run build && node bench/session.mjs [path of another compiled library]
import { createRequire } from 'node:module';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const library = createRequire(import.meta.url)(resolve(process.argv[2] ?? join(root, 'dist/lib/index.js')));
const Papa = createRequire(import.meta.url)('papaparse');
const WARM_UP = 3;
const ROUNDS = 20;
const NAMES = '{device}_{setting}_step-{step}';

/** Files of one session; another number gives another unit with other noise. */
function session(number) {
  const rig = library.demoRig();
  return library.sessionFiles({ ...rig, seed: rig.seed + number, unit: { ...rig.unit, device: `unit-${number}` } });
}

function parse(files) {
  return files.map(({ name, text }) => library.importText(text, optionsOf(name)).curve);
}

function optionsOf(name) {
  if (name.startsWith('noise')) return { name, role: 'noise', scale: 'spl' };
  if (name.startsWith('microphone')) return { name, role: 'correction' };
  return { name, namePattern: NAMES, scale: 'spl' };
}

/** What the demo flow does, node by node. */
const stages = {
  import: ({ files }) => ({ curves: parse(files) }),
  correction: ({ curves }) => {
    const correction = curves.find((curve) => curve.role === 'correction');
    const rest = curves.filter((curve) => curve !== correction);
    return { curves: rest.map((curve) => library.correctMicrophone(curve, correction)) };
  },
  noise: ({ curves }) => {
    const noise = curves.find((curve) => curve.role === 'noise');
    const responses = curves.filter((curve) => curve !== noise);
    return { noise, responses: responses.map((curve) => library.attachNoise(curve, noise)) };
  },
  'room features': ({ responses }) => {
    const roomFeatures = library.findRoomFeatures(responses, { room: library.demoRig().room });
    const dips = roomFeatures.filter((feature) => feature.kind === 'dip');
    return { roomFeatures, masksHz: dips.map((feature) => feature.maskHz) };
  },
  ladder: ({ responses, noise }) => {
    const names = [...new Set(responses.map((curve) => curve.about.setting))];
    const settings = names.map((name) => responses.filter((curve) => curve.about.setting === name));
    return { settings, ladder: settings.map((rungs) => library.buildLadder([...rungs, noise])) };
  },
  'band fit': ({ responses, masksHz }) => ({
    bandFit: responses.map((curve) => library.fitBand(curve, { masksHz })),
  }),
  'roll-off': ({ responses, noise, ladder, masksHz }) => ({
    rollOff: library
      .referenceCurves([...responses, noise], ladder)
      .map((curve) => library.fitRollOff(curve, { masksHz })),
  }),
  'setting difference': ({ settings, responses, noise, ladder, masksHz }) => {
    const pair = library.referencePair(settings[1], settings[0], [...responses, noise], ladder);
    return { settingDifference: library.compareSettings(...pair, { masksHz }) };
  },
};

function whole(files, took = {}) {
  let session = { files };
  for (const [name, stage] of Object.entries(stages)) {
    const start = performance.now();
    session = { ...session, ...stage(session) };
    took[name] = performance.now() - start;
  }
  return session;
}

/** Time and processor time, ms: a busy machine stretches the first only. */
function timeOf(work) {
  const [start, used] = [performance.now(), process.cpuUsage()];
  work();
  const { user, system } = process.cpuUsage(used);
  return { ms: performance.now() - start, cpu: (user + system) / 1e3 };
}

const median = (values) => values.toSorted((a, b) => a - b)[values.length >> 1];

const ten = Array.from({ length: 10 }, (_, number) => session(number));
const times = { parsing: [], session: [], ten: [], papaparse: [] };
const byStage = [];
for (let round = -WARM_UP; round < ROUNDS; round++) {
  // in turns, so that a slow moment of the machine hits all alike
  // ... and each session its turn, for some take longer to fit than others
  const one = ten[(round + WARM_UP) % ten.length];
  const took = {};
  const parsing = timeOf(() => parse(one));
  const wholeSession = timeOf(() => whole(one, took));
  const tenSessions = timeOf(() => ten.map((files) => whole(files)));
  const plainly = timeOf(() => {
    for (const { text } of one) Papa.parse(text, { dynamicTyping: true, comments: '#' });
  });
  if (round < 0) continue;
  times.papaparse.push(plainly);
  times.parsing.push(parsing);
  times.session.push(wholeSession);
  times.ten.push(tenSessions);
  byStage.push(took);
}
const of = (key) => Object.values(times).map((runs) => median(runs.map((run) => run[key])));
const [parsing, wholeSession, tenSessions, papaparse] = of('ms');
const [parsingCpu, wholeCpu, , papaparseCpu] = of('cpu');
console.log(`parsing ${ten[0].length} files          ${parsing.toFixed(2)} ms`);
console.log(`text to findings          ${wholeSession.toFixed(2)} ms`);
console.log(
  `  ratio                   ${(wholeSession / parsing).toFixed(2)}, of processor time ${(wholeCpu / parsingCpu).toFixed(2)} (target <= 3)`,
);
console.log(`papaparse's own parse     ${papaparse.toFixed(2)} ms`);
console.log(
  `  ratio to that           ${(wholeSession / papaparse).toFixed(2)}, of processor time ${(wholeCpu / papaparseCpu).toFixed(2)}`,
);
console.log(`ten sessions, ${10 * ten[0].length} files   ${tenSessions.toFixed(2)} ms`);
console.log(`  ratio to one            ${(tenSessions / wholeSession).toFixed(2)} (target <= 11)`);
for (const name of Object.keys(stages)) {
  console.log(`  ${name.padEnd(24)}${median(byStage.map((took) => took[name])).toFixed(2)} ms`);
}
