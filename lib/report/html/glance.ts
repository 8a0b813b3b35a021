import type { SettingDifference } from '../../model/findings';
import {
  formatDbChange,
  formatHertz,
  formatHz,
  formatHzRange,
  formatList,
  formatNumber,
  formatShort,
  NO_BREAK,
} from '../format';
import type { Session, SettingView } from '../session';
import { escapeHtml, plainName } from '../text';
import { QUOTED_HZ } from '../verdict/ceilingSentences';
import { ordinal } from '../verdict/rangeSentences';
import { countTrusted } from '../verdict/trustSentences';
import { ceilingText, flagged, limitText, onsetText, pointText } from './glanceCells';
import { type GlanceRow, soundRows } from './glanceRows';

/** The table at a glance: a column for each setting, rows in groups; what is known of no setting is left out. */
export function glanceTable(session: Session): string {
  const views = session.settings.filter(
    (view) => view.fit || view.ladder || view.rollOff || view.distortion || view.maximumOutput,
  );
  const groups = [...settingGroups(views), sharedGroup(session, Math.max(1, views.length))].filter(Boolean);
  if (groups.length === 0) return '';
  const names = views.map((view) => view.name || session.topic);
  const head = (views.length > 0 ? names : [session.topic])
    .map((name) => `<th scope="col">${escapeHtml(name)}</th>`)
    .join('');
  return (
    '<div class="scroll" tabindex="0" role="region" aria-label="At a glance"><table class="glance"><caption>Key figures of each setting. Drives count from the quietest run.</caption>' +
    `<thead><tr><td></td>${head}</tr></thead>\n${groups.join('\n')}</table></div>`
  );
}

function settingGroups(views: SettingView[]): string[] {
  const heights = [...new Set(views.flatMap((view) => (view.fit ? [view.fit.heightDb] : [])))].map((height) =>
    formatShort(height),
  );
  const window = `Within ${formatList(heights)}${NO_BREAK}dB`;
  const downs = [...new Set(views.flatMap((view) => view.fit?.points.map((point) => point.downDb) ?? []))].sort(
    (a, b) => a - b,
  );
  const amounts = [
    ...new Set(views.flatMap((view) => view.ladder?.onset.map((onset) => onset.compressionDb) ?? [])),
  ].sort((a, b) => a - b);
  const range: GlanceRow[] = [
    [
      `${window}, room's dips left out`,
      ({ fit }) => (fit && fit.masksHz.length > 0 ? flagged(formatHzRange(fit.lowHz, fit.highHz), fit) : null),
    ],
    [window, ({ fit }) => (fit ? flagged(formatHzRange(fit.withoutMasks.lowHz, fit.withoutMasks.highHz), fit) : null)],
    ...downs.map(
      (down): GlanceRow => [
        `${formatShort(down)}${NO_BREAK}dB down`,
        ({ fit }) => pointText(fit?.points.find((point) => point.downDb === down)),
      ],
    ),
    [
      'Roll-off',
      ({ rollOff }) =>
        rollOff
          ? flagged(
              `${formatShort(rollOff.slopeDbPerOctave)}${NO_BREAK}dB/octave${rollOff.f0Hz === null ? '' : `, ${ordinal(rollOff.order)} order, ${formatHz(rollOff.f0Hz)}`}${rollOff.q === null ? '' : `, Q${NO_BREAK}${formatNumber(rollOff.q, 2)}`}`,
              rollOff,
            )
          : null,
    ],
    ['Alignment', ({ rollOff }) => (rollOff?.alignment ? plainName(rollOff.alignment) : null)],
  ];
  const output: GlanceRow[] = [
    ...QUOTED_HZ.map((hz): GlanceRow => [`Loudest at ${formatHz(hz)}`, (view) => ceilingText(view, hz)]),
    ...amounts.map(
      (amount): GlanceRow => [`${formatShort(amount)}${NO_BREAK}dB lost from`, (view) => onsetText(view, amount)],
    ),
    ['Limited', limitText],
    ...soundRows(views),
  ];
  const trust: GlanceRow[] = [
    [
      'Drive step, measured',
      ({ ladder }) =>
        ladder && ladder.rungs.length > 1 && ladder.step.measuredDb !== null && ladder.step.uncertaintyDb !== null
          ? `${formatNumber(ladder.step.measuredDb, 2)} ± ${formatNumber(ladder.step.uncertaintyDb, 2)}${NO_BREAK}dB of ${formatShort(ladder.step.commandedDb, 2)}${NO_BREAK}dB`
          : null,
    ],
    [
      'Trusted band levels',
      ({ ladder }) => (ladder ? `${countTrusted(ladder).trusted} of ${countTrusted(ladder).total}` : null),
    ],
  ];
  return [group('Range', range, views), group('Output', output, views), group('Trust', trust, views)];
}

function group(name: string, rows: GlanceRow[], views: SettingView[]): string {
  const filled = rows
    .map(([label, cell]) => ({ label, cells: views.map(cell) }))
    .filter(({ cells }) => cells.some((cell) => cell !== null));
  if (filled.length === 0) return '';
  const body = filled.map(
    ({ label, cells }) =>
      `<tr><th scope="row">${escapeHtml(label)}</th>${cells.map((cell) => `<td>${cell === null ? '–' : escapeHtml(cell)}</td>`).join('')}</tr>`,
  );
  return `<tbody><tr class="group"><th scope="rowgroup" colspan="${views.length + 1}">${name}</th></tr>${body.join('\n')}</tbody>`;
}

function sharedGroup({ findings }: Session, columns: number): string {
  const rows: [string, string][] = [];
  for (const one of findings.settingDifference ?? []) {
    rows.push([`‘${plainName(one.a)}’ against ‘${plainName(one.b)}’`, differenceText(one)]);
  }
  const features = findings.roomFeatures ?? [];
  const named = (kind: 'dip' | 'peak', explained: boolean): string =>
    features
      .filter((one) => one.kind === kind && (one.cause.type !== 'unexplained') === explained)
      .map((one) => formatHertz(one.frequencyHz))
      .join(', ');
  for (const [label, list] of [
    ["Room's dips", named('dip', true)],
    ["Room's peaks", named('peak', true)],
    ['Unexplained dips', named('dip', false)],
    ['Unexplained peaks', named('peak', false)],
  ]) {
    if (list) rows.push([label, `${list}${NO_BREAK}Hz`]);
  }
  if (rows.length === 0) return '';
  const body = rows.map(
    ([label, text]) =>
      `<tr><th scope="row">${escapeHtml(label)}</th><td colspan="${columns}">${escapeHtml(text)}</td></tr>`,
  );
  return `<tbody><tr class="group"><th scope="rowgroup" colspan="${columns + 1}">Switch and room</th></tr>${body.join('\n')}</tbody>`;
}

function differenceText({ at, hingeHz }: SettingDifference): string {
  const values = at.map(
    (one) => `${formatDbChange(one.differenceDb)}${one.trusted ? '' : ' (untrusted)'} at ${formatHz(one.frequencyHz)}`,
  );
  return [...values, hingeHz === null ? 'no hinge' : `hinge ${formatHz(hingeHz)}`].join(', ');
}
