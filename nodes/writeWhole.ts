import { randomUUID } from 'node:crypto';
import { mkdir, rename, rm, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';

/** Write a file so that it is there whole or not at all; its folder is made where it is missing. */
export async function writeWhole(path: string, content: string | Uint8Array): Promise<void> {
  await mkdir(dirname(path), { recursive: true });
  const unfinished = join(dirname(path), `.${basename(path)}.${randomUUID()}.part`);
  try {
    await writeFile(unfinished, content, { flush: true });
    await rename(unfinished, path);
  } catch (problem) {
    await rm(unfinished, { force: true }).catch(() => {});
    // the system names the unfinished file, or none
    throw problem instanceof Error ? Object.assign(problem, { path }) : problem;
  }
}
