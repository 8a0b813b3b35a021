import type { Curve } from '../../model/curve';
import { MICROPHONE_STEP } from '../../response/correctMicrophone';
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
  const corrected = session.responses.filter((curve) => curve.steps.some((step) => step.did === MICROPHONE_STEP));
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
