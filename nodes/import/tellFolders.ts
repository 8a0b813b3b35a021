import { readdir } from 'node:fs/promises';
import type { AdminRequest, AdminResponse, RedApi } from '../nodeRed';
import { pathToRead } from '../paths';

/** More choices help nobody in a list below a field. */
const MOST = 50;

/** Tell the dialog the folders that what was typed may lead to: those in the last whole folder of it that begin alike. */
export function tellFolders(RED: RedApi) {
  return async ({ query }: AdminRequest, response: AdminResponse): Promise<void> => {
    const typed = String(query.files ?? '');
    const [, upTo = '', begun = ''] = /^(.*[/\\])?([^/\\]*)$/s.exec(typed) ?? [];
    // a pattern, a variable, several paths: no one folder
    if (/[*?${}\n]/.test(typed)) return response.json({ folders: [] });
    try {
      const entries = await readdir(pathToRead(RED, upTo || '.'), { withFileTypes: true });
      const isMeant = (name: string) => !name.startsWith('.') && name.toLowerCase().startsWith(begun.toLowerCase());
      const names = entries.filter((one) => one.isDirectory() && isMeant(one.name)).map(({ name }) => name);
      response.json({
        folders: names
          .sort((a, b) => a.localeCompare(b))
          .slice(0, MOST)
          .map((name) => upTo + name),
      });
    } catch {
      response.json({ folders: [] });
    }
  };
}
