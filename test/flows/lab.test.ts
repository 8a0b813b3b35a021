import {
  appendFileSync,
  copyFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { afterEach, describe, expect, it } from 'vitest';
import { type RunningScript, root, runScript } from './script';

const session = join(root, 'flows/demo/session');
let running: RunningScript | undefined;
let folder: string;
afterEach(async () => {
  await running?.stop();
  rmSync(folder, { recursive: true, force: true });
});

function folders() {
  folder = mkdtempSync(join(tmpdir(), 'bassloom-lab-'));
  const [inbox, outbox] = ['inbox', 'outbox'].map((name) => join(folder, name));
  mkdirSync(inbox);
  return { inbox, outbox, env: { BASSLOOM_INBOX: inbox, BASSLOOM_OUTBOX: outbox } };
}

/** A page but for the day it was written on, as a test may run over midnight. */
function undated(page: string): string {
  return page.replace(/\b20\d\d-\d\d-\d\d\b/g, '');
}

function rungsOf(outbox: string, unit: string): Record<string, number> {
  const { ladder } = JSON.parse(readFileSync(join(outbox, unit, 'findings.json'), 'utf8'));
  const ladders: { setting: string; rungs: unknown[] }[] = ladder;
  return Object.fromEntries(ladders.map(({ setting, rungs }) => [setting, rungs.length]));
}

describe.each(['node-red', 'node-red-4'])('the lab flow on %s', (nodeRed) => {
  it('takes what is there and what arrives, waits for unfinished files, reports bad ones, and repeats itself', async () => {
    const { inbox, outbox, env } = folders();
    const [last, ...others] = readdirSync(session)
      .filter((name) => name.startsWith('Marrowby'))
      .reverse();
    for (const name of [...others, 'noise.txt', 'microphone-correction.txt']) {
      copyFileSync(join(session, name), join(inbox, name));
    }
    writeFileSync(join(inbox, 'Marrowby-12_broken_step-01.txt'), 'this is no measurement\n');
    writeFileSync(join(inbox, '.hidden.txt'), 'neither is this\n');
    const labelled = { ...env, BASSLOOM_CORRECTION: join(inbox, 'microphone-correction.txt') };
    running = await runScript('lab', nodeRed, labelled);
    await running.said('Report of Marrowby-12');
    expect(rungsOf(outbox, 'Marrowby-12')).toEqual({ 'shelf-flat': 10, 'shelf-lifted': 9 });
    const problems = readFileSync(join(outbox, 'problems.log'), 'utf8');
    expect(problems.trim().split('\n')).toHaveLength(1);
    expect(problems).toContain('Marrowby-12_broken_step-01.txt');
    expect(existsSync(join(inbox, 'Marrowby-12_broken_step-01.txt'))).toBe(true);

    // a file that is written in six goes, of a unit of two rungs, and the one that was missing
    const text = readFileSync(join(session, others[0]), 'utf8');
    copyFileSync(join(session, others[1]), join(inbox, 'Second_only_step-01.txt'));
    let longestMs = 0;
    for (const sixth of [0, 1, 2, 3, 4, 5]) {
      const began = performance.now();
      const part = text.slice((sixth * text.length) / 6, ((sixth + 1) * text.length) / 6);
      appendFileSync(join(inbox, 'Second_only_step-02.txt'), part);
      await wait(500);
      longestMs = Math.max(longestMs, performance.now() - began);
    }
    // a file that a busy machine leaves alone for two seconds is taken to be whole, and read again when it is
    const isWritten = longestMs < 1000;
    copyFileSync(join(session, last), join(inbox, last));
    await running.said('Report of Second');
    await running.said('Report of Marrowby-12', 2);
    expect(rungsOf(outbox, 'Marrowby-12')).toEqual({ 'shelf-flat': 10, 'shelf-lifted': 10 });
    const curves = readFileSync(join(outbox, 'Second', 'curves.csv'), 'utf8');
    if (isWritten) {
      expect(running.log().split('Report of Second')).toHaveLength(2);
      expect(readFileSync(join(outbox, 'problems.log'), 'utf8')).toBe(problems);
    }
    const findings = readFileSync(join(outbox, 'Marrowby-12', 'findings.json'), 'utf8');
    const page = readFileSync(join(outbox, 'Marrowby-12', 'report.html'), 'utf8');

    await running.stop();
    rmSync(outbox, { recursive: true });
    running = await runScript('lab', nodeRed, labelled);
    await running.said('Report of Second');
    await running.said('Report of Marrowby-12');
    expect(readFileSync(join(outbox, 'Marrowby-12', 'findings.json'), 'utf8')).toBe(findings);
    const again = readFileSync(join(outbox, 'Marrowby-12', 'report.html'), 'utf8');
    expect(undated(again)).toBe(undated(page));
    if (isWritten) expect(readFileSync(join(outbox, 'Second', 'curves.csv'), 'utf8')).toBe(curves);
  });
});

describe('the lab flow', () => {
  it('waits at an empty inbox, reads a pattern of the user’s, and names files that do not fit it', async () => {
    const { inbox, outbox, env } = folders();
    running = await runScript('lab', 'node-red', { ...env, BASSLOOM_PATTERN: '{driveDb}dB {device}, {setting}' });
    await running.said('Started flows');
    await wait(1500);
    const runs = readdirSync(session).filter((name) => name.includes('flat'));
    for (const [i, name] of runs.slice(0, 4).entries()) {
      copyFileSync(join(session, name), join(inbox, `${3 * i}dB My unit, open.txt`));
    }
    copyFileSync(join(session, runs[4]), join(inbox, 'stray.txt'));
    await running.said('Report of My unit');
    expect(rungsOf(outbox, 'My unit')).toEqual({ open: 4 });
    const problems = readFileSync(join(outbox, 'problems.log'), 'utf8');
    expect(problems).toContain('stray.txt');
    expect(problems.split('A name that does: -6dB Sub, flat.')).toHaveLength(2);
    expect(problems).not.toContain('no files');
  });

  it.each([
    ['no folders', {}, 'must both be set'],
    ['no such inbox', { BASSLOOM_INBOX: '/nowhere/at/all', BASSLOOM_OUTBOX: '/tmp/x' }, 'there is no folder'],
  ])('says what is missing: %s', async (_title, env, message) => {
    folder = mkdtempSync(join(tmpdir(), 'bassloom-lab-'));
    running = await runScript('lab', 'node-red', { BASSLOOM_INBOX: '', BASSLOOM_OUTBOX: '', ...env });
    await running.said(message);
    expect(running.log()).toContain('npm run lab');
  });
});
