// `BASSLOOM_INBOX=... BASSLOOM_OUTBOX=... npm run lab`: reports from a watched folder, no editor.
import { closeSync, mkdirSync, openSync, readSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { keepLogShort } from './limitLog.mjs';
import { lockFolder } from './lock.mjs';
import { choosePort, packageRoot, startNodeRed } from './nodeRed.mjs';
import { sweepParts } from './sweepParts.mjs';

const usage = `Set the folder to watch and the folder for reports:
  BASSLOOM_INBOX=/measurements BASSLOOM_OUTBOX=/reports npm run lab
Measurements are exported responses (text) or recordings of a sweep (WAV). Also understood:
  BASSLOOM_STIMULUS       WAV file of the sweep that was played; default: a file stimulus... in the inbox
  BASSLOOM_FULL_SCALE_DB  sound pressure level in dB of a sine that just fills the recording, such as 121.4;
                          without it levels of recordings are relative
  BASSLOOM_CORRECTION     microphone correction file
  BASSLOOM_PATTERN        what file names say, default {device}_{setting}_step-{step}
  BASSLOOM_STEP_DB        drive between two steps in dB, default 3
  BASSLOOM_MOST_TEXT_MB   largest text that is read, default 64; BASSLOOM_MOST_SOUND_MB likewise, default 2047
  PORT                    default: the first free one from 1880
A file bassloom.json in the inbox may hold room, known dips, smoothing, window, procedure and title: see docs/lab.md.
Recordings called noise... are of the noise alone, with the sweep's muted twin played in its place; one called
calibrator... is of a sound calibrator of 94 dB at 1 kHz, and gives the full scale where it is not set.`;

function fail(message) {
  console.error(`${message}\n\n${usage}`);
  process.exit(2);
}

/** A file that is named is there. Returns its full path, or nothing where none is named. */
function fileIn(name) {
  const path = process.env[name];
  if (!path) return '';
  if (!statSync(path, { throwIfNoEntry: false })?.isFile()) fail(`${name}: there is no file ${path}.`);
  return resolve(path);
}

function isWav(path) {
  const opening = Buffer.alloc(12);
  const file = openSync(path);
  readSync(file, opening, 0, 12, 0);
  closeSync(file);
  const [id, form] = [opening.toString('latin1', 0, 4), opening.toString('latin1', 8)];
  return ['RIFF', 'RF64', 'BW64'].includes(id) && form === 'WAVE';
}

const { BASSLOOM_INBOX: inbox, BASSLOOM_OUTBOX: outbox, BASSLOOM_FULL_SCALE_DB: fullScale = '' } = process.env;
if (!inbox || !outbox) fail('BASSLOOM_INBOX and BASSLOOM_OUTBOX must both be set.');
if (resolve(inbox) === resolve(outbox)) fail('BASSLOOM_INBOX and BASSLOOM_OUTBOX must be different folders.');
if (!statSync(inbox, { throwIfNoEntry: false })?.isDirectory()) fail(`BASSLOOM_INBOX: there is no folder ${inbox}.`);
const correction = fileIn('BASSLOOM_CORRECTION');
const stimulus = fileIn('BASSLOOM_STIMULUS');
if (stimulus && !isWav(stimulus)) fail(`BASSLOOM_STIMULUS: ${stimulus} is no WAV file.`);
const fullScaleDb = Number(fullScale.replace(',', '.'));
if (fullScale && !(fullScaleDb >= 0 && fullScaleDb <= 300)) {
  fail(`BASSLOOM_FULL_SCALE_DB: "${fullScale}" is no level in dB, such as 121.4.`);
}
mkdirSync(outbox, { recursive: true });
let unlock;
try {
  unlock = lockFolder(outbox);
} catch (problem) {
  const why = problem.code
    ? problem.message
    : `another lab writes there, ${problem.message}. End it, or name another folder.`;
  console.error(`BASSLOOM_OUTBOX, ${resolve(outbox)}: ${why}`);
  process.exit(1);
}
process.on('exit', unlock);
keepLogShort(join(outbox, 'problems.log'), 5e6);
const unfinished = sweepParts(outbox);
if (unfinished > 0) console.log(`Removed ${unfinished} unfinished files of a run that was cut off.`);
console.log(`Bassloom lab: watching ${resolve(inbox)}, reporting to ${resolve(outbox)}`);
console.log(`Recordings are of ${stimulus || 'a file called stimulus... in the inbox, if there is one'}`);
await startNodeRed({
  name: 'lab',
  flow: join(packageRoot, 'flows/lab/lab.json'),
  onEnd: unlock,
  env: {
    PORT: String(await choosePort()),
    BASSLOOM_HEADLESS: '1',
    BASSLOOM_INBOX: resolve(inbox),
    BASSLOOM_OUTBOX: resolve(outbox),
    BASSLOOM_PATTERN: process.env.BASSLOOM_PATTERN || '{device}_{setting}_step-{step}',
    BASSLOOM_STEP_DB: process.env.BASSLOOM_STEP_DB || '',
    BASSLOOM_CORRECTION: correction,
    BASSLOOM_STIMULUS: stimulus,
    BASSLOOM_FULL_SCALE_DB: fullScale,
    BASSLOOM_MOST_TEXT_MB: process.env.BASSLOOM_MOST_TEXT_MB || '64',
    BASSLOOM_MOST_SOUND_MB: process.env.BASSLOOM_MOST_SOUND_MB || '2047',
    // they may lie in the inbox, and are no measurements
    BASSLOOM_LEAVE_OUT: [correction, stimulus].filter((path) => path !== '').join(';'),
  },
});
