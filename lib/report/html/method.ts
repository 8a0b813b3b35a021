import type { Curve, Step } from '../../model/curve';
import { formatCount, formatDb, formatHz, formatHzRange, formatShort, NO_BREAK } from '../format';
import type { Session } from '../session';
import { escapeHtml, plainName } from '../text';
import { type DataTable, dataTable } from './dataTable';
import { describeFields } from './describeFields';

/** What the report is told of how was measured, beside what the curves themselves say. */
export interface MethodNotes {
  procedure?: object;
  room?: object;
}

/** How it was measured, what was done to the numbers, and what must not be taken at face value. */
export function methodSection(session: Session, notes: MethodNotes): string {
  const { findings } = session;
  const parts = [
    factTable(session, notes),
    listOf('What is not to be taken at face value', caveatsOf(session)),
    listOf(
      'Notes from reading and collecting',
      unique((findings.notes ?? []).map(plainName)).map(([text, count]) => repeated(text, count, 'time')),
    ),
    stepTable([...session.responses, ...session.noise, ...session.corrections]),
    runTable(session),
  ];
  return parts.filter(Boolean).join('\n');
}

function factTable(session: Session, notes: MethodNotes): string {
  const described = describeFields(notes.procedure, ['name', 'procedure', 'id', 'type', 'z']);
  const rows: [string, string][] = [
    ['Runs', formatCount(session.responses.length, 'response')],
    [
      'Procedure',
      session.procedures.length === 0 ? 'not named' : session.procedures.map((name) => name || 'not named').join('; '),
    ],
    ...described,
    [
      'Level scale',
      session.scale === 'spl' ? `dB re 20${NO_BREAK}µPa` : 'relative: levels compare within this report only',
    ],
    ['Microphone correction', correctionWords(session)],
    ['Noise', noiseWords(session)],
    ['Repeatability of whole runs', repeatWords(session)],
    ...aboutRows(session.responses).filter(
      (row) => !described.some(([name, text]) => name === row[0] && text === row[1]),
    ),
    ...roomRows(session, notes),
  ];
  const body = rows.map(
    ([name, text]) => `<tr><th scope="row">${escapeHtml(name)}</th><td>${escapeHtml(text)}</td></tr>`,
  );
  const mixed =
    session.procedures.length > 1
      ? '<p class="warning"><strong>Mixed procedures.</strong> The runs were not all measured in the same way. Differences between them may come from the way of measuring, not from the unit.</p>'
      : '';
  return `${mixed}<table class="facts"><caption>How it was measured</caption><tbody>${body.join('\n')}</tbody></table>`;
}

function correctionWords(session: Session): string {
  const corrected = session.responses.filter((curve) => curve.steps.some((step) => /correct/i.test(step.did)));
  if (session.responses.length === 0) return 'none';
  if (corrected.length === 0)
    return session.corrections.length > 0 ? 'a correction is present but was not applied' : 'none applied';
  return corrected.length === session.responses.length
    ? 'applied to all responses'
    : `applied to ${corrected.length} of ${session.responses.length} responses only`;
}

function noiseWords({ findings, noise, responses }: Session): string {
  const known = [...new Set((findings.ladder ?? []).map((ladder) => ladder.snrFrom))];
  if (known.length > 0) return known.join('; ');
  if (noise.length > 0) return formatCount(noise.length, 'noise run');
  return responses.some((curve) => curve.noiseDb) ? 'came with the curves' : 'not measured';
}

function repeatWords({ findings, settings }: Session): string {
  const known = (findings.ladder ?? []).flatMap((ladder) => {
    if (ladder.repeatScatterDb === null || ladder.repeatScatterDb === undefined) return [];
    const name = settings.find((view) => view.ladder === ladder)?.name;
    return [`${name ? `${name}: ` : ''}${formatDb(ladder.repeatScatterDb, 2)} standard deviation`];
  });
  return known.join('; ') || 'not known';
}

/** Positions, distances and dates: all there are, each once. */
function aboutRows(curves: Curve[]): [string, string][] {
  const distinct = (pick: (curve: Curve) => string | undefined): string =>
    [...new Set(curves.flatMap((curve) => pick(curve) ?? []))].map(plainName).join('; ');
  const dates = curves
    .flatMap((curve) => curve.about.takenAt ?? [])
    .map(plainName)
    .sort();
  const rows: [string, string][] = [
    ['Position', distinct((curve) => curve.about.position)],
    [
      'Distance',
      distinct((curve) =>
        curve.about.distanceM === undefined ? undefined : `${formatShort(curve.about.distanceM, 2)}${NO_BREAK}m`,
      ),
    ],
    [
      'Taken',
      dates.length === 0
        ? ''
        : dates[0] === dates[dates.length - 1]
          ? dates[0]
          : `${dates[0]} to ${dates[dates.length - 1]}`,
    ],
  ];
  return rows.filter(([, text]) => text !== '');
}

function roomRows({ findings }: Session, notes: MethodNotes): [string, string][] {
  const prediction = findings.roomPrediction;
  const rows: [string, string][] = describeFields(notes.room, ['id', 'type', 'z']).map(([name, text]) => [
    `Room: ${name.toLowerCase()}`,
    text,
  ]);
  if (!prediction) return rows;
  if (!notes.room && prediction.room) rows.push(['Room', plainName(prediction.room)]);
  if (prediction.schroederHz !== null) {
    const modes =
      prediction.modesBelowSchroeder === null
        ? ''
        : `, ${formatCount(Math.round(prediction.modesBelowSchroeder), 'mode')} below it`;
    rows.push(['Schroeder frequency', `${formatHz(prediction.schroederHz)}${modes}`]);
  }
  return rows;
}

function caveatsOf({ findings }: Session): string[] {
  const all = [
    ...(findings.bandFit ?? []),
    ...(findings.rollOff ?? []),
    ...(findings.ladder ?? []),
    ...(findings.settingDifference ?? []),
    ...(findings.roomFeatures ?? []),
  ].flatMap((finding) => finding.caveats ?? []);
  return unique(all.map(plainName)).map(([text, count]) => repeated(text, count, 'finding'));
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
  const items = texts.map((text) => `<li>${escapeHtml(text)}</li>`).join('\n');
  const list = `<ul>${items}</ul>`;
  return `<h3>${title}</h3>\n${texts.length > 8 ? `<details><summary>${formatCount(texts.length, 'entry', 'entries')}</summary>${list}</details>` : list}`;
}

/** What was done to the curves, each kind of step once, with the settings that were the same for all. */
function stepTable(curves: Curve[]): string {
  const kinds = new Map<string, { steps: Step[]; curves: Set<string> }>();
  for (const curve of curves) {
    for (const step of curve.steps) {
      const kind = kinds.get(step.did) ?? { steps: [], curves: new Set() };
      kind.steps.push(step);
      kind.curves.add(curve.id);
      kinds.set(step.did, kind);
    }
  }
  if (kinds.size === 0) return '';
  const rows = [...kinds].map(([did, kind]) => [
    plainName(did),
    settingsText(kind.steps),
    `${kind.curves.size} of ${curves.length}`,
  ]);
  return `<h3>Processing</h3>\n${dataTable({ caption: 'What was done to the curves, in this order', head: ['Step', 'With', 'Curves'], rows })}`;
}

function settingsText(steps: Step[]): string {
  const keys = [...new Set(steps.flatMap((step) => Object.keys(step.with)))];
  const parts = keys.map((key) => {
    const values = [...new Set(steps.map((step) => valueText(step.with[key])))];
    return `${plainName(key)}: ${values.length > 3 ? `${values.length} different values` : values.join(' or ')}`;
  });
  return parts.join('; ') || '–';
}

function valueText(value: unknown): string {
  if (value === undefined) return 'not set';
  if (typeof value === 'number') return formatShort(value, 4);
  const text = plainName(typeof value === 'string' ? value : (JSON.stringify(value) ?? String(value)));
  return text.length > 120 ? `${text.slice(0, 120)}…` : text;
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
  return `<h3>Runs</h3>\n<details><summary>${formatCount(curves.length, 'curve')}</summary>${dataTable(table)}</details>`;
}
