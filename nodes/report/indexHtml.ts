import type { Measurement } from '../../lib/model/curve';
import { PAGE } from './outdated';

/** What the page of all units says of one. */
export interface IndexEntry {
  /** Name of the folder beside the page. */
  folder: string;
  unit: string;
  date?: string;
  settings: string[];
  headlines: string[];
  /** Its data changed since, and the report could not be written anew. */
  isOutdated?: boolean;
}

/** The page that leads to the reports of all units, in the colours of a report. */
export function indexHtml(entries: IndexEntry[]): string {
  const { styles } = require('../../lib/report/html/styles') as typeof import('../../lib/report/html/styles');
  const outdated = entries.filter(({ isOutdated }) => isOutdated).length;
  const count = entries.length === 1 ? '1 unit' : `${entries.length} units`;
  const said = outdated > 0 ? `${count}, ${outdated} out of date` : count;
  const body =
    entries.length === 0
      ? '<p>No reports yet. Put measurements into the inbox; each unit gets its report here.</p>'
      : `<p class="meta">${said}</p>\n${entries.map(unitHtml).join('\n')}`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Reports</title>
<style>${styles()}</style>
</head>
<body>
<header><h1>Reports</h1></header>
<main>
${body}
</main>
</body>
</html>
`;
}

function unitHtml({ folder, unit, date, settings, headlines, isOutdated }: IndexEntry): string {
  const { escapeHtml, plainName } = require('../../lib/report/text') as typeof import('../../lib/report/text');
  const text = (name: string) => escapeHtml(plainName(name));
  const link = `${encodeURIComponent(folder)}/${PAGE}`;
  const about = [...(date ? [date] : []), ...settings].map(text).join(' <span aria-hidden="true">·</span> ');
  const stale = isOutdated
    ? '\n<p class="warning">Out of date: its data changed, and it could not be written anew.</p>'
    : '';
  const points = headlines.map((line) => `<li>${text(line)}</li>`).join('');
  return `<section>
<h2><a href="${escapeHtml(link)}">${text(unit)}</a></h2>${about && `\n<p class="meta">${about}</p>`}${stale}${
    points && `\n<ul class="headlines">${points}</ul>`
  }
</section>`;
}

interface Reported extends Pick<IndexEntry, 'folder' | 'unit' | 'date'> {
  payload: Measurement[];
  headlines: { text: string }[];
}

/** How many headlines of a unit the page shows. */
const FIRST = 3;

/** What the page says of a report just written. */
export function entryOf({ payload, headlines, ...of }: Reported): IndexEntry {
  const settings = new Set(payload.flatMap(({ role, about }) => (role === 'response' ? (about.setting ?? []) : [])));
  return { ...of, settings: [...settings], headlines: headlines.slice(0, FIRST).map(({ text }) => text) };
}
