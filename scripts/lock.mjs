// A lock on a folder, so that two labs never write into it at once.
import { randomUUID } from 'node:crypto';
import { readFileSync, renameSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';

const NAME = '.bassloom-lab.lock';
/** The owner touches its lock that often; on a drive that several machines share, this is all that shows it is alive. */
const TOUCH_MS = 10_000;
const STALE_MS = 60_000;

/**
 * Lock a folder for this process. The lock of an owner that is no more is taken over.
 *
 * @returns how to let go of it. @throws Error naming the owner.
 */
export function lockFolder(folder) {
  const path = join(folder, NAME);
  const own = { pid: process.pid, host: hostname(), begun: beginning(process.pid), id: randomUUID() };
  for (let i = 0; i < 100; i++) {
    try {
      writeFileSync(path, JSON.stringify(own), { flag: 'wx', flush: true });
      return hold(path, own);
    } catch (problem) {
      if (problem.code !== 'EEXIST') throw problem;
    }
    const owner = read(path);
    if (owner === undefined) continue;
    if (isAlive(owner)) throw new Error(`process ${owner.pid} on ${owner.host}`);
    // whoever renames it first takes it over
    const aside = `${path}.${own.id}`;
    try {
      renameSync(path, aside);
    } catch {
      continue;
    }
    if (read(aside)?.id === owner.id) rmSync(aside, { force: true });
    else renameSync(aside, path); // another one's, which took the stale one over in the meantime
  }
  throw new Error('somebody who takes and leaves it all the time');
}

function hold(path, own) {
  const touch = setInterval(() => {
    try {
      if (read(path)?.id === own.id) utimesSync(path, new Date(), new Date());
    } catch {} // the folder may be gone for a while
  }, TOUCH_MS);
  touch.unref();
  return () => {
    clearInterval(touch);
    if (read(path)?.id === own.id) rmSync(path, { force: true });
  };
}

function read(path) {
  try {
    const { mtimeMs } = statSync(path);
    const text = readFileSync(path, 'utf8');
    try {
      return { ...JSON.parse(text), mtimeMs };
    } catch {
      return { pid: 0, host: 'unknown', mtimeMs }; // cut off by a full disk or a power cut
    }
  } catch {
    return undefined;
  }
}

function isAlive({ pid, host, begun, mtimeMs }) {
  if (host !== hostname()) return Date.now() - mtimeMs < STALE_MS;
  if (!(pid > 0) || pid === process.pid) return false;
  try {
    process.kill(pid, 0);
  } catch (problem) {
    if (problem.code !== 'EPERM') return false;
  }
  // another process may have got its number since
  return begun === beginning(pid);
}

/** When a process began, as far as the system says it: since this start of the machine, which is named too. */
function beginning(pid) {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
    // the name of the program, in brackets, may hold blanks
    const ticks = stat.slice(stat.lastIndexOf(')') + 2).split(' ')[19];
    return `${readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim()} ${ticks}`;
  } catch {
    return '';
  }
}
