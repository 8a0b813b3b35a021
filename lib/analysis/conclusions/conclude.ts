import type { Curve, Measurement } from '../../model/curve';
import type { Conclusions, Detail, Findings } from '../../model/findings';
import { makeStatement } from '../../words/makeStatement';
import { plainName } from '../../words/plainName';
import { shortNames } from '../../words/shortNames';
import { captureViews } from './captureViews';
import { chooseHeadlines } from './chooseHeadlines';
import { concludeSetting } from './concludeSetting';
import { limitDetails, outputDetails } from './levelDetails';
import { distortionDetails, earDetails, roomDetails, switchDetails } from './otherDetails';
import { rangeDetails } from './rangeDetails';
import { settingGroups } from './settingGroups';
import { shownRuns } from './shownRuns';
import type { Session } from './topic';
import { trustDetails } from './trustDetails';

/**
 * Say what findings come to: for each setting which run speaks for it, how far it is limited, where it stays clean and
 * what becomes of its shape; three to seven headlines, and what is left to say beside them.
 *
 * @param measurements what the findings were read from; none are needed, but runs without findings are known from them
 * alone. @param findings of one unit or several. Findings with a warning are not used.
 * @returns conclusions to be kept in `findings.conclusions`. Nothing is concluded from what is not trusted: where levels
 * do not show that nothing limits, the extent is 'unknown'.
 *
 * @example
 * conclude([curve], { bandFit: [fitBand(curve)] }).headlines[0].text // 'It stays within 5 dB over 18.2–104 Hz.'
 */
export function conclude(measurements: readonly Measurement[], findings: Findings): Conclusions {
  const curves = measurements.filter((one): one is Curve => one.kind === 'curve');
  const responses = curves.filter(({ role }) => role === 'response');
  const views = captureViews(findings, responses);
  const groups = settingGroups(measurements, findings, views);
  const shown = shownRuns(groups, findings);
  const short = shortNames(groups.map(({ name }) => name));
  const labelled = (verdict: string): string[] =>
    views.filter((one) => one.verdict === verdict).map(({ label }) => label);
  const session: Session = {
    subjects: groups.map((group, k) => ({
      group,
      conclusion: concludeSetting(group, shown[k]),
      index: k + 1,
      short: short[k],
    })),
    findings,
    captures: { judged: findings.captureQuality?.length ?? 0, doubtful: labelled('doubtful'), bad: labelled('bad') },
    procedures: [...new Set(responses.map(({ about }) => plainName(about.procedure ?? '')))],
    curves: responses.length,
    recordings: measurements.length - curves.length,
  };
  const { headlines, left } = chooseHeadlines(session);
  return {
    settings: session.subjects.map(({ conclusion }) => conclusion),
    captures: session.captures,
    headlines,
    details: inOrder([...left, ...detailsOf(session, headlines)]),
  };
}

/** Findings with what they come to, kept where it is there already. */
export function withConclusions(measurements: readonly Measurement[], findings: Findings): Findings {
  return findings.conclusions ? findings : { ...findings, conclusions: conclude(measurements, findings) };
}

function detailsOf(session: Session, headlines: Conclusions['headlines']): Detail[] {
  const { subjects, findings } = session;
  return [
    ...subjects.flatMap((subject) => rangeDetails(subject, headlines)),
    ...switchDetails(findings, headlines),
    ...subjects.flatMap((subject) => limitDetails(subject, headlines)),
    ...subjects.flatMap(distortionDetails),
    ...subjects.flatMap(outputDetails),
    ...subjects.flatMap(({ group: { name }, conclusion: { shape }, index }): Detail[] =>
      shape?.kind === 'unknown'
        ? [{ topic: 'shape', ...makeStatement('shape-unknown', { name }, `fig-ladder-${index}`) }]
        : [],
    ),
    ...roomDetails(findings),
    ...trustDetails(session),
    ...earDetails(findings),
  ];
}

const TOPICS: Detail['topic'][] = [
  'range',
  'switch',
  'limits',
  'distortion',
  'output',
  'shape',
  'room',
  'trust',
  'ears',
];

/** Sorted by topic, warnings first, else as they came. */
function inOrder(details: Detail[]): Detail[] {
  const rank = ({ topic, warning }: Detail): number => TOPICS.indexOf(topic) + (warning ? 0 : 0.5);
  return [...details].sort((a, b) => rank(a) - rank(b));
}
