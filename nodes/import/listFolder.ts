import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { byName } from '../byName';
import { whatElse } from './openRegular';

/** A file in a watched folder, known by its path from there, with slashes. */
export interface ListedFile {
  name: string;
  path: string;
  size: number;
  mtimeMs: number;
  inode: number;
}

export interface Listing {
  files: ListedFile[];
  /** What is there and is no file, and what it is. */
  odd: { name: string; what: string }[];
  /** The folder itself, and those in it. */
  folders: string[];
}

/** Hidden and unfinished files: of editors, browsers, and programs that copy. */
const PASSED_OVER = /^[.~]|~$|\.(tmp|temp|part|partial|crdownload|swp)$/i;
/** So many at once: a folder may hold ten thousand. */
const AT_ONCE = 64;

/** List the files of a folder and of the folders in it, one level down, in the order of their names. */
export async function listFolder(folder: string): Promise<Listing> {
  const listing: Listing = { files: [], odd: [], folders: [folder] };
  const below: string[] = [];
  await look(folder, '', folder, listing, below);
  for (const name of below.sort(byName)) {
    listing.folders.push(join(folder, name));
    // it may have gone since
    await look(join(folder, name), `${name}/`, folder, listing).catch(() => {});
  }
  listing.files.sort((a, b) => byName(a.name, b.name));
  return listing;
}

async function look(at: string, before: string, top: string, listing: Listing, below?: string[]): Promise<void> {
  const entries = (await readdir(at, { withFileTypes: true })).filter(({ name }) => !PASSED_OVER.test(name));
  for (let i = 0; i < entries.length; i += AT_ONCE) {
    await Promise.all(
      entries.slice(i, i + AT_ONCE).map(async (entry) => {
        if (entry.isDirectory()) return void below?.push(entry.name);
        const path = join(at, entry.name);
        const name = before + entry.name;
        try {
          const what = entry.isFile() ? undefined : await whatElse(path, top);
          if (what === undefined) {
            const { size, mtimeMs, ino } = await stat(path);
            listing.files.push({ name, path, size, mtimeMs, inode: ino });
          } else listing.odd.push({ name, what });
        } catch {} // gone since it was listed
      }),
    );
  }
}
