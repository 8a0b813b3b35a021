// A session of 22 files from text to findings, against the time that parsing the files alone takes; and ten sessions
// against one. Ratios of medians within one run; targets: at most 3, and at most 11.
// Run: npm run build && node bench/session.mjs [path of another compiled library]
import { createRequire } from 'node:module';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const library = createRequire(import.meta.url)(resolve(process.argv[2] ?? join(root, 'dist/lib/index.js')));
const { importText, correctMicrophone, findRoomFeatures, fitBand, fitRollOff, buildLadder, compareSettings } = library;

const ROUNDS = 15;
const NAMES = '{device}_{setting}_step-{step}';

/** Files of one session; another number gives another unit with other noise. */
function session(number) {
  const rig = library.demoRig();
  return library.sessionFiles({ ...rig, seed: rig.seed + number, unit: { ...rig.unit, device: `unit-${number}` } });
}

function parse(files) {
  return files.map(({ name, text }) => importText(text, optionsOf(name)).curve);
}

function optionsOf(name) {
  if (name.startsWith('noise')) return { name, role: 'noise', scale: 'spl' };
  if (name.startsWith('microphone')) return { name, role: 'correction' };
  return { name, namePattern: NAMES, scale: 'spl' };
}

function analyse(curves) {
  const correction = curves.find((curve) => curve.role === 'correction');
  const noise = correctMicrophone(
    curves.find((curve) => curve.role === 'noise'),
    correction,
  );
  const responses = curves
    .filter((curve) => curve.role === 'response')
    .map((curve) => correctMicrophone(curve, correction));
  const names = [...new Set(responses.map((curve) => curve.about.setting))];
  const settings = names.map((name) => responses.filter((curve) => curve.about.setting === name));
  const roomFeatures = findRoomFeatures(responses, { room: library.demoRig().room });
  const masksHz = roomFeatures.filter((feature) => feature.kind === 'dip').map((feature) => feature.maskHz);
  return {
    roomFeatures,
    bandFit: responses.map((curve) => fitBand(curve, { masksHz })),
    rollOff: responses.map((curve) => fitRollOff(curve, { masksHz })),
    ladder: settings.map((rungs) => buildLadder(rungs, { noise })),
    settingDifference: settings.slice(1).map((rungs) => compareSettings(rungs[3], settings[0][3], { masksHz })),
  };
}

function timeOf(work) {
  const start = performance.now();
  work();
  return performance.now() - start;
}

const median = (values) => values.toSorted((a, b) => a - b)[values.length >> 1];

const one = session(0);
const ten = Array.from({ length: 10 }, (_, number) => session(number));
const whole = (files) => analyse(parse(files));
const times = { parsing: [], session: [], ten: [] };
for (let round = -3; round < ROUNDS; round++) {
  // in turns, so that a slow moment of the machine hits all alike; the first rounds warm up
  const parsing = timeOf(() => parse(one));
  const wholeSession = timeOf(() => whole(one));
  const tenSessions = timeOf(() => ten.forEach(whole));
  if (round < 0) continue;
  times.parsing.push(parsing);
  times.session.push(wholeSession);
  times.ten.push(tenSessions);
}
const [parsing, wholeSession, tenSessions] = Object.values(times).map(median);
console.log(`parsing ${one.length} files            ${parsing.toFixed(2)} ms`);
console.log(`text to findings            ${wholeSession.toFixed(2)} ms`);
console.log(`  ratio                     ${(wholeSession / parsing).toFixed(2)} (target <= 3)`);
console.log(`ten sessions, ${10 * one.length} files     ${tenSessions.toFixed(2)} ms`);
console.log(`  ratio to one              ${(tenSessions / wholeSession).toFixed(2)} (target <= 11)`);

const parts = { import: () => parse(one) };
const curves = parse(one);
const responses = curves.filter((curve) => curve.role === 'response');
const room = library.demoRig().room;
parts['room features'] = () => findRoomFeatures(responses, { room });
parts['band fit'] = () => responses.map((curve) => fitBand(curve));
parts['roll-off'] = () => responses.map((curve) => fitRollOff(curve));
parts.ladder = () => buildLadder(responses.slice(0, 10), { noise: curves.find((curve) => curve.role === 'noise') });
parts['setting difference'] = () => compareSettings(responses[13], responses[3]);
console.log('parts, each alone (room features, band fit and roll-off of all curves, one ladder, one difference):');
for (const [name, work] of Object.entries(parts)) {
  const took = median(Array.from({ length: ROUNDS }, () => timeOf(work)));
  console.log(`  ${name.padEnd(20)} ${took.toFixed(2)} ms`);
}
