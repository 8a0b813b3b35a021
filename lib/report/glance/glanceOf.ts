import { isOfRoom } from '../../analysis/conclusions/isOfRoom';
import type { SettingDifference } from '../../model/findings';
import type { Session, SettingView } from '../session';
import { plainName } from '../text';
import { burstGroup, burstRows } from './burstRows';
import type { GlanceRow } from './glanceRow';
import { cleanRows, limitRows, loudestRows } from './levelRows';
import { responseRows } from './responseRows';
import { trustRows } from './trustRows';

/** The table at a glance: a column for each setting, rows in groups; what is known of no setting is left out. */
export interface Glance {
  /** Heads of the columns. */
  names: string[];
  groups: GlanceGroup[];
}

export interface GlanceGroup {
  name: string;
  /** One cell for all columns where it holds for all settings; null where nothing is known. */
  rows: { label: string; cells: (string | null)[]; isShared: boolean }[];
}

export function glanceOf(session: Session): Glance {
  const { words, settings, topic } = session;
  const { groups: told } = words.page.glanceTable;
  const views = settings.filter(
    (view) => view.fit || view.ladder || view.rollOff || view.distortion || view.maximumOutput,
  );
  const groups = [
    group(told.range, responseRows(views, words), views),
    group(told.loudest, loudestRows(words), views),
    group(told.limits, limitRows(views, words), views),
    group(told.distortion, cleanRows(views, words), views),
    group(burstGroup(views, words), burstRows(views, words), views),
    group(told.trust, trustRows(session), views),
    sharedGroup(session),
  ].filter(({ rows }) => rows.length > 0);
  const names = views.map((view) => view.name || topic);
  return { names: names.length > 0 ? names : [topic], groups };
}

function group(name: string, rows: GlanceRow[], views: SettingView[]): GlanceGroup {
  const filled = rows
    .map(([label, cell]) => ({ label, cells: views.map(cell), isShared: false }))
    .filter(({ cells }) => cells.some((cell) => cell !== null));
  return { name, rows: filled };
}

/** What holds for all settings: the switch between them, and the room. */
function sharedGroup(session: Session): GlanceGroup {
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
  return { name: told.groups.shared, rows: filled.map(([label, text]) => ({ label, cells: [text], isShared: true })) };
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
