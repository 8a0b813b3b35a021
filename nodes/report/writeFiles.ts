import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { writeWhole } from '../writeWhole';

/** Write files into a folder, each whole or not at all. Returns their paths. */
export async function writeFiles(folder: string, files: { name: string; text: string }[]): Promise<string[]> {
  const paths: string[] = [];
  for (const { name, text } of files) {
    const path = join(folder, name);
    await writeWhole(path, text);
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
