// `BASSLOOM_INBOX=... BASSLOOM_OUTBOX=... npm run lab`: reports from a watched folder, no editor.
import { mkdirSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { choosePort, packageRoot, startNodeRed } from './nodeRed.mjs';

const usage = `Set the folder to watch and the folder for reports:
  BASSLOOM_INBOX=/measurements BASSLOOM_OUTBOX=/reports npm run lab
Also understood:
  BASSLOOM_PATTERN     what file names say, default {device}_{setting}_step-{step}
  BASSLOOM_STEP_DB     drive between two steps in dB, default 3
  BASSLOOM_CORRECTION  microphone correction file
  PORT                 default: the first free one from 1880`;

function fail(message) {
  console.error(`${message}\n\n${usage}`);
  process.exit(2);
}

const { BASSLOOM_INBOX: inbox, BASSLOOM_OUTBOX: outbox, BASSLOOM_CORRECTION: correction = '' } = process.env;
if (!inbox || !outbox) fail('BASSLOOM_INBOX and BASSLOOM_OUTBOX must both be set.');
if (resolve(inbox) === resolve(outbox)) fail('BASSLOOM_INBOX and BASSLOOM_OUTBOX must be different folders.');
if (!statSync(inbox, { throwIfNoEntry: false })?.isDirectory()) fail(`BASSLOOM_INBOX: there is no folder ${inbox}.`);
if (correction && !statSync(correction, { throwIfNoEntry: false })?.isFile()) {
  fail(`BASSLOOM_CORRECTION: there is no file ${correction}.`);
}
mkdirSync(outbox, { recursive: true });
console.log(`Bassloom lab: watching ${resolve(inbox)}, reporting to ${resolve(outbox)}`);
await startNodeRed({
  name: 'lab',
  flow: join(packageRoot, 'flows/lab/lab.json'),
  env: {
    PORT: String(await choosePort()),
    BASSLOOM_HEADLESS: '1',
    BASSLOOM_INBOX: resolve(inbox),
    BASSLOOM_OUTBOX: resolve(outbox),
    BASSLOOM_PATTERN: process.env.BASSLOOM_PATTERN || '{device}_{setting}_step-{step}',
    BASSLOOM_STEP_DB: process.env.BASSLOOM_STEP_DB || '3',
    BASSLOOM_CORRECTION: correction && resolve(correction),
  },
});
