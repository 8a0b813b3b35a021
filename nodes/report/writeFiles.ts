import { createHash, randomUUID } from 'node:crypto';
import { mkdir, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';

/** Write files into a folder so that each is there whole or not at all. Returns their paths. */
export async function writeFiles(folder: string, files: { name: string; text: string }[]): Promise<string[]> {
  await mkdir(folder, { recursive: true });
  const paths: string[] = [];
  for (const { name, text } of files) {
    const path = join(folder, name);
    const unfinished = join(folder, `.${name}.${randomUUID()}.part`);
    try {
      await writeFile(unfinished, text, { flush: true });
      await rename(unfinished, path);
    } catch (problem) {
      await rm(unfinished, { force: true });
      throw problem;
    }
    paths.push(path);
  }
  return paths;
}

/** A name that every file system takes. Where letters had to go, a mark of the whole name keeps two names apart. */
export function safeName(name: string): string {
  const safe = name
    .replace(/[\p{Cc}\p{Cf}<>:"/\\|?*]+/gu, '-')
    .replace(/^[.\s]+|[.\s]+$/g, '')
    .slice(0, 80)
    .trimEnd();
  const isReserved = /^(con|prn|aux|nul|com\d|lpt\d)(\.|$)/i.test(safe);
  if (safe === name && safe !== '' && !isReserved) return safe;
  return `${safe || 'unit'}-${createHash('sha256').update(name).digest('hex').slice(0, 6)}`;
}
