import { rename } from 'node:fs/promises';
import { join } from 'node:path';
import { exists } from '../exists';

/** The page of a unit, the same once it is outdated, and the notice that then takes its place. */
export const PAGE = 'report.html';
export const OUTDATED = 'report-outdated.html';
export const NOTICE = '.outdated.html';

/**
 * Show that a unit's report is no longer that of its data: the page gets another name, and the notice that was laid
 * beside it when it was written takes its place. Two renames, which need no room on a full disk.
 *
 * @returns whether there was a page to mark.
 */
export async function markOutdated(folder: string): Promise<boolean> {
  const [page, outdated, notice] = [PAGE, OUTDATED, NOTICE].map((name) => join(folder, name));
  if (await exists(outdated)) return true;
  if (!(await exists(page))) return false;
  await rename(page, outdated);
  await rename(notice, page).catch(() => {}); // reports of before had none; the name alone says it then
  return true;
}

/** What stands in place of a page that is outdated. */
export function noticeHtml(unit: string): string {
  const name = unit.replace(/[&<>"']/g, (letter) => `&#${letter.charCodeAt(0)};`);
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${name}: report out of date</title>
<style>body{font:1rem/1.5 system-ui,sans-serif;max-width:40rem;margin:3rem auto;padding:0 1rem}</style>
</head>
<body>
<h1>${name}: this report is out of date</h1>
<p>The unit’s data changed, and the report could not be written anew. Why is in the log. Tables beside this page may be of either.</p>
<p><a href="${OUTDATED}">The report as it was before</a></p>
</body>
</html>
`;
}
