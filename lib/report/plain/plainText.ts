import type { ReportWords } from '../../words/reportWords';
import type { Summary } from './summary';

/** Letters of a line: what mail and forums show without breaking it. */
const WIDTH = 78;

/** A summary as plain text that mail and forums leave as it is. */
export function plainTextOf(summary: Summary, { page }: ReportWords): string {
  const { title, lines, warnings, headlines, glance, doubts, credit } = summary;
  const blocks = [
    `${title}\n${'='.repeat(Math.min(WIDTH, Array.from(title).length))}`,
    lines.flatMap((line) => wrapped(line, '')).join('\n'),
    ...warnings.map((text) => wrapped(text, '! ').join('\n')),
    headlines.flatMap(({ text, doubt }) => wrapped(doubt ? `${text} (${doubt})` : text, '- ')).join('\n'),
    ...(glance.groups.length > 0 ? [[page.glance.toUpperCase(), ...rowsOf(summary)].join('\n')] : []),
    ...(doubts.length > 0
      ? [[page.doubts.toUpperCase(), ...doubts.flatMap((text) => wrapped(text, '- '))].join('\n')]
      : []),
    ...(credit ? [wrapped(credit, '').join('\n')] : []),
  ];
  return `${blocks.join('\n\n').replace(/\u00a0/g, ' ')}\n`;
}

/** One line a value: columns would not hold in letters of different widths. */
function rowsOf({ glance: { names, groups } }: Summary): string[] {
  return groups.flatMap(({ name, rows }) => [
    name,
    ...rows.flatMap(({ label, cells, isShared }) =>
      cells.flatMap((cell, k) => {
        if (cell === null) return [];
        return wrapped(`${label}${isShared || names.length < 2 ? '' : `, ${names[k]}`}: ${cell}`, '  ');
      }),
    ),
  ]);
}

/** Lines of a text, the first led by a sign, the others set in as far. */
function wrapped(text: string, lead: string): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line !== '' && lead.length + line.length + 1 + word.length > WIDTH) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  return [...lines, line].map((one, k) => `${k === 0 ? lead : ' '.repeat(lead.length)}${one}`);
}
