import type { ReportWords } from '../../words/reportWords';
import type { GlanceGroup } from '../glance/glanceOf';
import type { Summary } from './summary';

/** Signs that mean something in Markdown or in the HTML that it may hold. */
const SIGNS = /[\\`*_{}[\]()#+!|<>~&-]/g;

/** A summary as Markdown (CommonMark, with the tables that most forums know). Names cannot become links, HTML or headings. */
export function markdownOf(summary: Summary, { page }: ReportWords): string {
  const { title, lines, warnings, headlines, glance, doubts, credit } = summary;
  const blocks = [
    `# ${plain(title)}`,
    lines.map(plain).join(' · '),
    ...warnings.map((text) => `> **${plain(text)}**`),
    headlines.map(({ text, doubt }) => `- ${plain(text)}${doubt ? ` *(${plain(doubt)})*` : ''}`).join('\n'),
    ...(glance.groups.length > 0 ? [`## ${plain(page.glance)}`, table(glance.names, glance.groups)] : []),
    ...(doubts.length > 0 ? [`## ${plain(page.doubts)}`, doubts.map((text) => `- ${plain(text)}`).join('\n')] : []),
    ...(credit ? [`*${plain(credit)}*`] : []),
  ];
  return `${blocks.join('\n\n')}\n`;
}

function table(names: string[], groups: GlanceGroup[]): string {
  const row = (cells: string[]) => `| ${cells.join(' | ')} |`;
  const body = groups.flatMap(({ name, rows }) => [
    row([`**${plain(name)}**`, ...names.map(() => '')]),
    ...rows.map(({ label, cells, isShared }) =>
      row([
        plain(label),
        ...(isShared ? names.map((_, k) => (k === 0 ? cells[0] : '')) : cells).map((cell) => plain(cell ?? '–')),
      ]),
    ),
  ]);
  return [row(['', ...names.map(plain)]), row(['---', ...names.map(() => '---')]), ...body].join('\n');
}

function plain(text: string): string {
  return text.replace(/\s/g, ' ').replace(SIGNS, '\\$&');
}
