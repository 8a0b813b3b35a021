import { isUnusable } from '../../model/caveat';
import type { SettingDifference, Statement } from '../../model/findings';
import { bandAround } from '../../model/octaves';
import { makeStatement } from '../../words/makeStatement';
import { shortNames } from '../../words/shortNames';
import { doubtOf } from './doubtOf';
import { toHz, toTenth } from './rounded';
import type { Candidate, Session } from './topic';

/** Where the effect of a switch is told first, Hz. */
const TOLD_HZ = 20;

/** What each switch does. */
export function switchHeadlines({ findings }: Session): Candidate[] {
  return (findings.settingDifference ?? []).flatMap((difference, k) => {
    if (isUnusable(difference)) return [];
    const statement = sayDifference(difference, `fig-difference-${k + 1}`);
    const told = toldAt(difference);
    const doubt = doubtOf([difference], told ? [bandAround(told.frequencyHz, 3)] : undefined);
    return [
      { rank: k === 0 ? 5 : 8, topic: 'switch', headline: { ...statement, ...(doubt !== undefined && { doubt }) } },
    ];
  });
}

function sayDifference(difference: SettingDifference, figure: string): Statement {
  const { kind, hingeHz, levelDb } = difference;
  const [a, b] = shortNames([difference.a, difference.b], true);
  const told = toldAt(difference);
  const values = { a, b, hz: told ? toHz(told.frequencyHz) : null, byDb: told ? toTenth(told.differenceDb) : null };
  if (kind === 'shelf' && hingeHz !== null) {
    return makeStatement('switch-shelf', { ...values, hingeHz: toHz(hingeHz) }, figure);
  }
  if (kind === 'level' && levelDb !== null) {
    return makeStatement('switch-level', { ...values, byDb: toTenth(levelDb) }, figure);
  }
  if (kind === 'low-pass' || kind === 'none' || kind === 'unknown') {
    return makeStatement(`switch-${kind}`, values, figure);
  }
  return makeStatement('switch-other', values, figure);
}

/** The trusted value nearest to 20 Hz. */
function toldAt({ at }: SettingDifference): SettingDifference['at'][number] | undefined {
  const away = ({ frequencyHz }: { frequencyHz: number }): number => Math.abs(Math.log2(frequencyHz / TOLD_HZ));
  return at.filter(({ trusted }) => trusted).sort((a, b) => away(a) - away(b))[0];
}
