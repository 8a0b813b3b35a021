import { formatCount, formatHzRange } from '../format';
import type { Session } from '../session';
import { heldUnits, plainName, plainSentence, proseHtml } from '../text';
import { type DataTable, dataTable } from './dataTable';
import { factTable, type MethodNotes } from './factTable';
import { gatherNotes } from './gatherNotes';
import { stepTable } from './stepTable';
import { termsSection } from './terms';

/** How it was measured, what was done to the numbers, and what must not be taken at face value. */
export function methodSection(session: Session, notes: MethodNotes): string {
  const { findings } = session;
  const parts = [
    factTable(session, notes),
    listOf('What is not to be taken at face value', caveatsOf(session)),
    listOf(
      'Notes from reading and collecting',
      gatherNotes(
        (findings.notes ?? []).map(({ where, message }) => (where?.file ? `${where.file}: ${message}` : message)),
        labelsOf(session),
      ).map(plainName),
    ),
    termsSection(session),
    stepTable([...session.responses, ...session.noise, ...session.corrections]),
    runTable(session),
  ];
  return parts.filter(Boolean).join('\n');
}

function labelsOf({ responses, noise, corrections, harmonics, recordings }: Session): string[] {
  return [...responses, ...noise, ...corrections, ...harmonics, ...recordings].map(({ label }) => label);
}

function caveatsOf({ findings, captures }: Session): string[] {
  const all = [
    ...(findings.bandFit ?? []),
    ...(findings.rollOff ?? []),
    ...(findings.ladder ?? []),
    ...(findings.settingDifference ?? []),
    ...(findings.roomFeatures ?? []),
    ...(findings.distortion ?? []),
    ...(findings.maximumOutput ?? []),
  ]
    .flatMap((finding) => finding.caveats ?? [])
    // What is wrong with captures has a section of its own.
    .filter(({ code }) => captures.length === 0 || !/^captures?-not-good$/.test(code))
    .map(({ message }) => message);
  return unique(all.map(plainSentence)).map(([text, count]) => repeated(text, count, 'finding'));
}

function unique(texts: string[]): [string, number][] {
  const counts = new Map<string, number>();
  for (const text of texts) counts.set(text, (counts.get(text) ?? 0) + 1);
  return [...counts];
}

function repeated(text: string, count: number, one: string): string {
  return count > 1 ? `${text} (${formatCount(count, one)})` : text;
}

function listOf(title: string, texts: string[]): string {
  if (texts.length === 0) return '';
  const items = texts.map((text) => `<li>${proseHtml(heldUnits(text))}</li>`).join('\n');
  const list = `<ul>${items}</ul>`;
  return `<h3>${title}</h3>\n${texts.length > 12 ? `<details class="open"><summary>${formatCount(texts.length, 'entry', 'entries')}</summary>${list}</details>` : list}`;
}

function runTable({ responses, noise, corrections }: Session): string {
  const curves = [...responses, ...noise, ...corrections];
  if (curves.length === 0) return '';
  const table: DataTable = {
    caption: 'All curves of this report',
    head: ['Label', 'Role', 'Setting', 'Drive in dB', 'Range', 'Points', 'Identity'],
    decimals: [1, 1, 1, 1, 1, 0],
    rows: curves.map((curve) => [
      plainName(curve.label),
      curve.role,
      plainName(curve.about.setting ?? '') || '–',
      curve.about.driveDb ?? null,
      formatHzRange(curve.frequencyHz[0], curve.frequencyHz[curve.frequencyHz.length - 1]),
      curve.frequencyHz.length,
      curve.id,
    ]),
  };
  return `<h3>Runs</h3>\n<details class="open"><summary>${formatCount(curves.length, 'curve')}</summary>${dataTable(table)}</details>`;
}
