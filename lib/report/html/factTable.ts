import type { Curve } from '../../model/curve';
import type { Ladder } from '../../model/findings';
import { stepsOf } from '../../model/step';
import { formatCount, formatDb, formatHz, formatShort, NO_BREAK } from '../format';
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
  const described = describeFields(notes.procedure, ['name', 'procedure', 'id', 'type', 'z']);
  const own = aboutRows(session.responses);
  const rows: [string, string][] = [
    ['Runs', formatCount(session.responses.length, 'response')],
    ['Procedure', procedureWords(session, notes)],
    ...described.map(([name, text]): [string, string] => [name, bothWords(name, text, own)]),
    [
      'Level scale',
      session.scale === 'spl' ? `dB re 20${NO_BREAK}µPa` : 'relative: levels compare within this report only',
    ],
    ['Microphone correction', correctionWords(session)],
    ['Noise', noiseWords(session)],
    ['Repeatability of whole runs', repeatWords(session)],
    ...own.filter(([name]) => !described.some((row) => row[0] === name)),
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

/** As the runs name it; where none of them does, as the report was told. */
function procedureWords({ procedures }: Session, { procedure }: MethodNotes): string {
  const { name } = (procedure ?? {}) as { name?: unknown };
  const told = typeof name === 'string' ? plainName(name) : '';
  const named = procedures.map((one) => one || 'not named');
  return procedures.some(Boolean) || !told ? named.join('; ') || 'not named' : told;
}

/** What the runs themselves say goes before what the procedure plans; both where they do not agree. */
function bothWords(name: string, planned: string, own: [string, string][]): string {
  const measured = own.find((row) => row[0] === name)?.[1];
  if (measured === undefined || measured === planned) return planned;
  return isSameNumber(measured, planned) ? measured : `${measured}; ${planned} by the procedure`;
}

/** Two numbers closer than this share of each other are one, of which one was rounded. */
const ROUNDED = 0.02;

function isSameNumber(one: string, other: string): boolean {
  const [a, b] = [one, other].map((text) => /^([\d.]+)(\u00a0\S+)$/.exec(text));
  if (!a || !b || a[2] !== b[2]) return false;
  return Math.abs(Number(a[1]) - Number(b[1])) <= ROUNDED * Number(b[1]);
}

function correctionWords(session: Session): string {
  const corrected = session.responses.filter((curve) => stepsOf(curve, 'microphone correction').length > 0);
  if (session.responses.length === 0) return 'none';
  if (corrected.length === 0)
    return session.corrections.length > 0 ? 'a correction is present but was not applied' : 'none applied';
  return corrected.length === session.responses.length
    ? 'applied to all responses'
    : `applied to ${corrected.length} of ${session.responses.length} responses only`;
}

const NOISE_WORDS: Record<Ladder['snrFrom'], string> = {
  'noise run': 'measured in a run of its own',
  'noise in the file': 'came with the curves',
  'scatter between rungs': 'not measured; estimated from the scatter between runs',
  unknown: 'not known',
};

function noiseWords({ findings, noise, responses }: Session): string {
  const known = [...new Set((findings.ladder ?? []).map((ladder) => NOISE_WORDS[ladder.snrFrom]))];
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
