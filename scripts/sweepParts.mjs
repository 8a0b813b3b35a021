// What was being written when a power cut or a kill came.
import { readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';

/** Names as nodes/writeWhole.ts makes them. */
const UNFINISHED = /^\..+\.[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}\.part$/;

/** Remove unfinished files from a folder and from the folders in it. Returns how many there were. */
export function sweepParts(folder, depth = 1) {
  let count = 0;
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    if (entry.isDirectory() && depth > 0) count += sweepParts(path, depth - 1);
    else if (entry.isFile() && UNFINISHED.test(entry.name)) {
      rmSync(path, { force: true });
      count++;
    }
  }
  return count;
}
