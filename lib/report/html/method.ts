import type { ReportWords } from '../../words/reportWords';
import type { Session } from '../session';
import { plainName, proseHtml } from '../text';
import { type DataTable, dataTable } from './dataTable';
import { behind } from './doubts';
import { factTable, type MethodNotes } from './factTable';
import { gatherCaveats } from './gatherCaveats';
import { stepTable } from './stepTable';

/** How it was measured, what was done to the numbers, and what reading the files had to guess or repair. */
export function methodSection(session: Session, notes: MethodNotes): string {
  const { words } = session;
  return [
    factTable(session, notes),
    noteList(session),
    stepTable([...session.responses, ...session.noise, ...session.corrections], words),
    runTable(session, words),
  ]
    .filter(Boolean)
    .join('\n');
}

/** Each note once, with the files it speaks of. */
function noteList({ findings, words }: Session): string {
  const notes = (findings.notes ?? []).map((caveat) => ({ caveat, name: plainName(caveat.where?.file ?? '') }));
  if (notes.length === 0) return '';
  const items = gatherCaveats(notes).map((group) => {
    const of = behind(group, words);
    return `<li>${proseHtml(plainName(group.caveat.message))}${of ? ` <span class="quiet">(${proseHtml(of)})</span>` : ''}</li>`;
  });
  return `<h3>${words.page.methodTable.notes}</h3>\n<ul>${items.join('\n')}</ul>`;
}

/** More runs than that are listed in the table of runs only. */
const MOST_ROWS = 500;

function runTable({ responses, noise, corrections }: Session, words: ReportWords): string {
  const curves = [...responses, ...noise, ...corrections];
  if (curves.length === 0) return '';
  const { methodTable } = words.page;
  const table: DataTable = {
    caption: methodTable.runCaption,
    head: methodTable.runHead,
    decimals: [1, 1, 1, 1, 1, 0],
    rows: curves
      .slice(0, MOST_ROWS)
      .map((curve) => [
        plainName(curve.label),
        curve.role,
        plainName(curve.about.setting ?? '') || '–',
        curve.about.driveDb ?? null,
        methodTable.hzRange(curve.frequencyHz[0], curve.frequencyHz[curve.frequencyHz.length - 1]),
        curve.frequencyHz.length,
        curve.id,
      ]),
  };
  return `<h3>${methodTable.runList}</h3>\n${dataTable(table, words)}`;
}
