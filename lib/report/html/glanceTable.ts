import type { GlanceGroup } from '../glance/glanceOf';
import { glanceOf } from '../glance/glanceOf';
import type { Session } from '../session';
import { escapeHtml, proseHtml } from '../text';

/** The table at a glance; nothing where nothing is known. */
export function glanceTable(session: Session): string {
  const { names, groups } = glanceOf(session);
  if (groups.length === 0) return '';
  const { glanceTable: told, glance } = session.words.page;
  const head = names.map((name) => `<th scope="col">${escapeHtml(name)}</th>`).join('');
  return (
    `<div class="scroll" tabindex="0" role="region" aria-label="${glance}"><table class="glance"><caption>${told.caption}</caption>` +
    `<thead><tr><td></td>${head}</tr></thead>\n${groups.map((one) => groupHtml(one, names.length)).join('\n')}</table></div>`
  );
}

function groupHtml({ name, rows }: GlanceGroup, columns: number): string {
  const body = rows.map(
    ({ label, cells, isShared }) =>
      `<tr><th scope="row">${escapeHtml(label)}</th>${cells.map((cell) => `<td${isShared ? ` colspan="${columns}"` : ''}>${cell === null ? '–' : proseHtml(cell)}</td>`).join('')}</tr>`,
  );
  return `<tbody><tr class="group"><th scope="rowgroup" colspan="${columns + 1}">${escapeHtml(name)}</th></tr>${body.join('\n')}</tbody>`;
}
