// A log that cannot fill a disk: when it is large it is laid aside, and the one laid aside before goes.
import { renameSync, statSync } from 'node:fs';

const LOOK_MS = 30_000;

/** Lay a log aside as `<name>.1` once it has that many bytes. Returns whether it was. */
export function limitLog(path, mostBytes) {
  if (!((statSync(path, { throwIfNoEntry: false })?.size ?? 0) >= mostBytes)) return false;
  renameSync(path, `${path}.1`);
  return true;
}

/** Do so now and from time to time, as long as this process runs. */
export function keepLogShort(path, mostBytes) {
  const look = () => {
    try {
      limitLog(path, mostBytes);
    } catch {} // the folder may be gone for a while, or somebody has the file open
  };
  look();
  setInterval(look, LOOK_MS).unref();
}
