import { outputPlace } from '../../analysis/conclusions/outputPlace';
import type { Curve } from '../../model/curve';
import { isCorrected } from '../../response/isCorrected';
import type { ReportWords } from '../../words/reportWords';
import { DRAWN_FRACTION } from '../figures/drawnSession';
import type { Session } from '../session';
import { escapeHtml, plainName } from '../text';
import { describeFields } from './describeFields';

/** What the report is told of how was measured, beside what the curves themselves say. */
export interface MethodNotes {
  procedure?: object;
  room?: object;
}

/** How it was measured, as far as procedure, room and curves tell. */
export function factTable(session: Session, notes: MethodNotes): string {
  const { words, findings } = session;
  const { methodTable } = words.page;
  const described = describeFields(notes.procedure, ['name', 'procedure', 'id', 'type', 'z'], words);
  const own = aboutRows(session.responses, words);
  const output = findings.maximumOutput ?? [];
  const rows: [string, string][] = [
    [methodTable.runs, methodTable.responses(session.responses.length)],
    [methodTable.procedure, procedureWords(session, notes)],
    ...described.map(([name, text]): [string, string] => [name, bothWords(name, text, own, methodTable)]),
    [methodTable.scale, methodTable.scales[session.scale]],
    [methodTable.correction, correctionWords(session)],
    [methodTable.noise, noiseWords(session)],
    [methodTable.repeat, repeatWords(session)],
    ...own.filter(([name]) => !described.some((row) => row[0] === name)),
    ...roomRows(session, notes),
    ...(output.length > 0
      ? [
          [methodTable.burst, methodTable.burstValue(output.every((one) => outputPlace(one).isConverted))] as [
            string,
            string,
          ],
        ]
      : []),
    ...(session.responses.length > 0
      ? [[methodTable.drawn, methodTable.drawnValue(DRAWN_FRACTION)] as [string, string]]
      : []),
  ];
  const body = rows.map(
    ([name, text]) => `<tr><th scope="row">${escapeHtml(name)}</th><td>${escapeHtml(text)}</td></tr>`,
  );
  return `<table class="facts"><caption>${methodTable.caption}</caption><tbody>${body.join('\n')}</tbody></table>`;
}

/** As the runs name it; where none of them does, as the report was told. */
export function procedureWords({ procedures, words }: Session, { procedure }: MethodNotes): string {
  const { notNamed } = words.page;
  const { name } = (procedure ?? {}) as { name?: unknown };
  const told = typeof name === 'string' ? plainName(name) : '';
  const named = procedures.map((one) => one || notNamed);
  return procedures.some(Boolean) || !told ? named.join('; ') || notNamed : told;
}

/** What the runs themselves say goes before what the procedure plans; both where they do not agree. */
function bothWords(
  name: string,
  planned: string,
  own: [string, string][],
  methodTable: ReportWords['page']['methodTable'],
): string {
  const measured = own.find((row) => row[0] === name)?.[1];
  if (measured === undefined || measured === planned) return planned;
  return isSameNumber(measured, planned) ? measured : methodTable.byProcedure(measured, planned);
}

/** Two numbers closer than this share of each other are one, of which one was rounded. */
const ROUNDED = 0.02;

function isSameNumber(one: string, other: string): boolean {
  const [a, b] = [one, other].map((text) => /^([\d.]+)(\u00a0\S+)$/.exec(text));
  if (!a || !b || a[2] !== b[2]) return false;
  return Math.abs(Number(a[1]) - Number(b[1])) <= ROUNDED * Number(b[1]);
}

function correctionWords({ responses, corrections, words }: Session): string {
  const { methodTable } = words.page;
  const corrected = responses.filter(isCorrected);
  if (responses.length === 0) return methodTable.corrections.none;
  if (corrected.length === 0)
    return corrections.length > 0 ? methodTable.corrections.notApplied : methodTable.corrections.noneApplied;
  return corrected.length === responses.length
    ? methodTable.corrections.all
    : methodTable.correctedSome(corrected.length, responses.length);
}

function noiseWords({ findings, noise, responses, words }: Session): string {
  const { methodTable } = words.page;
  const known = [...new Set((findings.ladder ?? []).map((ladder) => methodTable.noiseFrom[ladder.snrFrom]))];
  if (known.length > 0) return known.join('; ');
  if (noise.length > 0) return methodTable.noiseRuns(noise.length);
  return responses.some((curve) => curve.noiseDb) ? methodTable.noiseFrom['noise in the file'] : methodTable.noNoise;
}

function repeatWords({ findings, settings, words }: Session): string {
  const { methodTable } = words.page;
  const known = (findings.ladder ?? []).flatMap((ladder) => {
    if (ladder.repeatScatterDb === null || ladder.repeatScatterDb === undefined) return [];
    const name = settings.find((view) => view.ladder === ladder)?.name;
    return [`${name ? `${name}: ` : ''}${methodTable.repeatScatter(ladder.repeatScatterDb)}`];
  });
  return known.join('; ') || methodTable.noiseFrom.unknown;
}

/** Positions, distances and dates: all there are, each once. */
function aboutRows(curves: Curve[], { page, say }: ReportWords): [string, string][] {
  const { methodTable } = page;
  const distinct = (pick: (curve: Curve) => string | undefined): string =>
    [...new Set(curves.flatMap((curve) => pick(curve) ?? []))].map(plainName).join('; ');
  const dates = curves
    .flatMap((curve) => curve.about.takenAt ?? [])
    .map(plainName)
    .sort();
  const rows: [string, string][] = [
    [methodTable.position, distinct((curve) => curve.about.position)],
    [
      methodTable.distance,
      distinct(({ about }) => (about.distanceM === undefined ? undefined : say.metres(about.distanceM))),
    ],
    [
      methodTable.taken,
      dates.length === 0
        ? ''
        : dates[0] === dates[dates.length - 1]
          ? dates[0]
          : methodTable.takenRange(dates[0], dates[dates.length - 1]),
    ],
  ];
  return rows.filter(([, text]) => text !== '');
}

function roomRows({ findings, words }: Session, notes: MethodNotes): [string, string][] {
  const { methodTable } = words.page;
  const prediction = findings.roomPrediction;
  const rows = describeFields(notes.room, ['id', 'type', 'z'], words).map(([name, text]): [string, string] => [
    methodTable.roomField(name),
    text,
  ]);
  if (!prediction) return rows;
  if (!notes.room && prediction.room) rows.push([methodTable.room, plainName(prediction.room)]);
  if (prediction.schroederHz !== null)
    rows.push([
      methodTable.schroeder,
      methodTable.schroederValue(prediction.schroederHz, prediction.modesBelowSchroeder),
    ]);
  return rows;
}
