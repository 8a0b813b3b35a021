import { isOfRoom } from '../../../analysis/conclusions/isOfRoom';
import type { SettingDifference } from '../../../model/findings';
import type { Session, SettingView } from '../../session';
import { escapeHtml, plainName, proseHtml } from '../../text';
import { burstGroup, burstRows } from './burstRows';
import type { GlanceRow } from './glanceRow';
import { cleanRows, limitRows, loudestRows } from './levelRows';
import { responseRows } from './responseRows';
import { trustRows } from './trustRows';

/** The table at a glance: a column for each setting, rows in groups; what is known of no setting is left out. */
export function glanceTable(session: Session): string {
  const { words, settings, topic } = session;
  const { glanceTable: told, glance } = words.page;
  const views = settings.filter(
    (view) => view.fit || view.ladder || view.rollOff || view.distortion || view.maximumOutput,
  );
  const groups = [
    group(told.groups.range, responseRows(views, words), views),
    group(told.groups.loudest, loudestRows(words), views),
    group(told.groups.limits, limitRows(views, words), views),
    group(told.groups.distortion, cleanRows(views, words), views),
    group(burstGroup(views, words), burstRows(views, words), views),
    group(told.groups.trust, trustRows(session), views),
    sharedGroup(session, Math.max(1, views.length)),
  ].filter(Boolean);
  if (groups.length === 0) return '';
  const names = views.map((view) => view.name || topic);
  const head = (views.length > 0 ? names : [topic]).map((name) => `<th scope="col">${escapeHtml(name)}</th>`).join('');
  return (
    `<div class="scroll" tabindex="0" role="region" aria-label="${glance}"><table class="glance"><caption>${told.caption}</caption>` +
    `<thead><tr><td></td>${head}</tr></thead>\n${groups.join('\n')}</table></div>`
  );
}

function group(name: string, rows: GlanceRow[], views: SettingView[]): string {
  const filled = rows
    .map(([label, cell]) => ({ label, cells: views.map(cell) }))
    .filter(({ cells }) => cells.some((cell) => cell !== null));
  if (filled.length === 0) return '';
  const body = filled.map(
    ({ label, cells }) =>
      `<tr><th scope="row">${escapeHtml(label)}</th>${cells.map((cell) => `<td>${cell === null ? '–' : proseHtml(cell)}</td>`).join('')}</tr>`,
  );
  return `<tbody><tr class="group"><th scope="rowgroup" colspan="${views.length + 1}">${escapeHtml(name)}</th></tr>${body.join('\n')}</tbody>`;
}

/** What holds for all settings: the switch between them, and the room. */
function sharedGroup(session: Session, columns: number): string {
  const { findings, words } = session;
  const { glanceTable: told } = words.page;
  const features = findings.roomFeatures ?? [];
  const list = (test: (one: (typeof features)[number]) => boolean): string => {
    const hz = features.filter(test).map(({ frequencyHz }) => frequencyHz);
    return hz.length > 0 ? told.hzList(hz) : '';
  };
  const rows: [string, string][] = [
    ...(findings.settingDifference ?? []).map((one): [string, string] => [
      told.difference(plainName(one.a), plainName(one.b)),
      differenceText(one, session),
    ]),
    [told.roomDips, list((one) => one.kind === 'dip' && isOfRoom(one))],
    [told.roomPeaks, list((one) => one.kind === 'peak' && isOfRoom(one))],
    [told.unitFeatures, list((one) => one.belongsTo === 'unit' && !isOfRoom(one))],
    [told.unknownDips, list((one) => one.kind === 'dip' && one.belongsTo === 'unknown' && !isOfRoom(one))],
    [told.unknownPeaks, list((one) => one.kind === 'peak' && one.belongsTo === 'unknown' && !isOfRoom(one))],
  ];
  const filled = rows.filter(([, text]) => text !== '');
  if (filled.length === 0) return '';
  const body = filled.map(
    ([label, text]) =>
      `<tr><th scope="row">${escapeHtml(label)}</th><td colspan="${columns}">${proseHtml(text)}</td></tr>`,
  );
  return `<tbody><tr class="group"><th scope="rowgroup" colspan="${columns + 1}">${told.groups.shared}</th></tr>${body.join('\n')}</tbody>`;
}

function differenceText({ kind, at, hingeHz, levelDb }: SettingDifference, { words }: Session): string {
  const { difference } = words.figure;
  return [
    difference.kind[kind] ?? difference.kind.unknown,
    ...(hingeHz === null ? [] : [difference.hinge(hingeHz)]),
    ...(kind === 'level' && levelDb !== null ? [difference.level(levelDb)] : []),
    ...at.map((one) => difference.at(one.differenceDb, one.frequencyHz, one.trusted)),
  ].join(', ');
}
