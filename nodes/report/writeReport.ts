import { readFile, rm } from 'node:fs/promises';
import { basename, join } from 'node:path';
import type { FormattedReport } from '../../lib/report/reportInFormats';
import { exists } from '../exists';
import { writeWhole } from '../writeWhole';
import { NOTICE, noticeHtml, OUTDATED, PAGE } from './outdated';

type Written = Pick<FormattedReport, 'html' | 'findingsJson' | 'tables' | 'markdown' | 'text' | 'pictures'>;

/** Names of the files that the report in a folder consists of. */
const LIST = '.files.json';

/**
 * Write the files of a unit's report, each whole or not at all, and remove those of an earlier report that this one has
 * none of.
 *
 * @returns their paths, the page last, so that it never stands before its tables.
 */
export async function writeReport(
  folder: string,
  unit: string,
  { html, findingsJson, tables, markdown, text, pictures = [] }: Written,
): Promise<string[]> {
  const files = [
    ...tables.map(({ name, csv }) => ({ name, content: csv })),
    { name: 'findings.json', content: findingsJson },
    ...(markdown === undefined ? [] : [{ name: 'summary.md', content: markdown }]),
    ...(text === undefined ? [] : [{ name: 'summary.txt', content: text }]),
    ...pictures.map(({ name, png }) => ({ name, content: png })),
    { name: PAGE, content: html },
  ];
  const names = files.map(({ name }) => name);
  const before = await listed(folder);
  // what is begun is listed, so that it goes with a later report even if this one is never finished
  await writeWhole(join(folder, LIST), JSON.stringify([...new Set([...before, ...names])]));
  const layNotice = () => writeWhole(join(folder, NOTICE), noticeHtml(unit));
  const wasOutdated = await exists(join(folder, OUTDATED));
  if (!wasOutdated) await layNotice();
  for (const { name, content } of files) await writeWhole(join(folder, name), content);
  const gone = before.filter((name) => !names.includes(name));
  for (const name of [...gone, OUTDATED]) await rm(join(folder, name), { force: true });
  if (wasOutdated) await layNotice();
  if (gone.length > 0) await writeWhole(join(folder, LIST), JSON.stringify(names));
  return names.map((name) => join(folder, name));
}

async function listed(folder: string): Promise<string[]> {
  try {
    const names: unknown = JSON.parse(await readFile(join(folder, LIST), 'utf8'));
    const isOwn = (name: unknown): name is string =>
      typeof name === 'string' && name !== '' && basename(name) === name && !name.startsWith('.');
    return Array.isArray(names) ? names.filter(isOwn) : [];
  } catch {
    return []; // the first report, or one of before
  }
}
