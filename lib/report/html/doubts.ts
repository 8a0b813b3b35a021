import type { Caveat, Severity } from '../../model/caveat';
import type { About, Curve } from '../../model/curve';
import type { Headline } from '../../model/findings';
import { nameOfRun, type Session } from '../session';
import { plainName, proseHtml } from '../text';
import { type Gathered, gatherCaveats, type NamedCaveat } from './gatherCaveats';

/** All that speaks against the numbers, each thing once. */
export interface Doubts {
  groups: Gathered[];
  /** Reasons of headlines that no caveat says in the same words. */
  reasons: string[];
}

/** Gather what speaks against findings and headlines; what is wrong with captures is told with the captures. */
export function doubtsOf(session: Session): Doubts {
  const groups = gatherCaveats(caveatsOf(session));
  const known = new Set(groups.flatMap(({ messages }) => [...messages]));
  const headlines = session.findings.conclusions?.headlines ?? [];
  const reasons = headlines.flatMap(({ doubt }) => (doubt && !known.has(doubt) ? [doubt] : []));
  return { groups, reasons: [...new Set(reasons)] };
}

/** Id of the entry that says why a headline is doubted. */
export function whyId({ groups, reasons }: Doubts, { doubt }: Headline): string | undefined {
  if (!doubt) return undefined;
  const group = groups.findIndex(({ messages }) => messages.has(doubt));
  return group >= 0 ? `doubt-${group + 1}` : `why-${reasons.indexOf(doubt) + 1}`;
}

/** The list of doubts, the heaviest first. */
export function doubtsHtml(doubts: Doubts, { words }: Session): string {
  const { doubtList } = words.page;
  const { groups, reasons } = doubts;
  if (groups.length === 0 && reasons.length === 0) return `<p>${doubtList.none}</p>`;
  const of = (severity: Severity): string[] =>
    groups.flatMap((group, k) =>
      group.caveat.severity === severity ? [item(`doubt-${k + 1}`, group.caveat.message, behind(group, words))] : [],
    );
  const list = (title: string, items: string[], kind = ''): string =>
    items.length === 0 ? '' : `<h3>${title}</h3>\n<ul${kind}>${items.join('\n')}</ul>`;
  return [
    list(doubtList.warnings, of('warning'), ' class="warnings"'),
    list(doubtList.doubts, [...reasons.map((text, k) => item(`why-${k + 1}`, text, '')), ...of('doubt')]),
    list(doubtList.remarks, of('remark')),
  ]
    .filter(Boolean)
    .join('\n');
}

/** The runs a sentence holds for. */
export function behind({ names, count, isSame }: Gathered, words: Session['words']): string {
  const { doubtList } = words.page;
  return names.length > 0 ? doubtList.of(names, isSame) : count > 1 ? doubtList.many(count) : '';
}

function item(id: string, text: string, of: string): string {
  return `<li id="${id}">${proseHtml(plainName(text))}${of ? ` <span class="quiet">(${proseHtml(of)})</span>` : ''}</li>`;
}

function caveatsOf(session: Session): NamedCaveat[] {
  const { findings, captures } = session;
  const { bandFit = [], rollOff = [], ladder = [], settingDifference = [], roomFeatures = [] } = findings;
  const { distortion = [], maximumOutput = [] } = findings;
  const named = (name: string, caveats: Caveat[] = []): NamedCaveat[] =>
    caveats.map((caveat) => ({ caveat, name: placeName(session, caveat) || name }));
  return [
    ...[...bandFit, ...rollOff].flatMap((one) => named(runName(session, one), one.caveats)),
    ...[...ladder, ...distortion, ...maximumOutput].flatMap((one) => named(settingName(session, one), one.caveats)),
    ...settingDifference.flatMap((one) => named('', one.caveats)),
    ...roomFeatures.flatMap((one) => named(session.words.say.hz(one.frequencyHz), one.caveats)),
  ].filter(({ caveat }) => captures.length === 0 || !OF_CAPTURES.has(caveat.code));
}

/** What is wrong with captures has a section of its own. */
const OF_CAPTURES = new Set(['capture-not-good', 'captures-not-good']);

/** '‘deep’ at −12 dB', the name of a run among those of several settings. */
export function runName(session: Session, one: Pick<Curve, 'label' | 'about'>): string {
  const run = nameOfRun(one, session.words);
  const setting = settingName(session, one.about);
  return setting ? `${setting} ${run}` : run;
}

function settingName({ settings }: Session, { device, setting }: Pick<About, 'device' | 'setting'>): string {
  return settings.find((one) => one.device === device && one.setting === setting)?.name ?? '';
}

/** The run or file that a caveat itself names. */
function placeName(session: Session, { where }: Caveat): string {
  const curve = session.responses.find(({ id }) => id === where?.curve);
  if (curve) return runName(session, curve);
  return where?.file ? plainName(where.file) : '';
}
