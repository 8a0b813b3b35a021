import { formatCount } from '../format';
import type { Session } from '../session';
import { badCaptureSentences, captureSentences } from './captureSentences';
import { ceilingSentences } from './ceilingSentences';
import { compressionSentences } from './compressionSentences';
import { distortionSentences } from './distortionSentences';
import { exposureSentences } from './exposureSentences';
import { limitSentences } from './limitSentences';
import { outputSentences } from './outputSentences';
import { depthSentences, rangeSentences, rollOffSentences } from './rangeSentences';
import { roomSentences } from './roomSentences';
import type { Sentence } from './sentence';
import { shapeSentences } from './shapeSentences';
import { switchSentences } from './switchSentences';
import { procedureSentences, stepSentences, trustSentences } from './trustSentences';

/**
 * Write the verdict from findings and nothing else: what is missing is passed over, what is doubtful says so.
 *
 * @param figureFor gives the id of the figure of a kind for a setting (counted from 1), undefined where there is none.
 * @returns sentences in the order a reader asks for them.
 */
export function writeVerdict(
  session: Session,
  figureFor: (kind: string, index?: number) => string | undefined,
): Sentence[] {
  const { settings, findings } = session;
  const each = (write: (view: Session['settings'][number], figure?: string) => Sentence[], kind: string): Sentence[] =>
    settings.flatMap((view, k) => write(view, figureFor(kind, k + 1)));
  const sentences = [
    ...badCaptureSentences(session, 'captures'),
    ...procedureSentences(session),
    ...each(rangeSentences, 'response'),
    ...each(depthSentences, 'response'),
    ...each(rollOffSentences, 'response'),
    ...(findings.settingDifference ?? []).flatMap((one, k) => switchSentences(one, figureFor('difference', k + 1))),
    ...each(compressionSentences, 'map'),
    ...each(limitSentences, 'ladder'),
    ...each(ceilingSentences, 'ceilings'),
    ...each(distortionSentences, 'distortion'),
    ...each(outputSentences, 'output'),
    ...each(shapeSentences, 'range'),
    ...roomSentences(findings.roomFeatures ?? [], figureFor('room')),
    ...each(stepSentences, 'ladder'),
    ...each(trustSentences, 'map'),
    ...captureSentences(session, 'captures'),
    ...exposureSentences(findings, 'cautions'),
  ];
  return sentences.length > 0 ? sentences : [nothingAnalysed(session, figureFor('response', 1))];
}

function nothingAnalysed(session: Session, figure?: string): Sentence {
  const count = session.responses.length;
  const sounds = session.recordings.length > 0 ? ` and ${formatCount(session.recordings.length, 'recording')}` : '';
  const what = (count === 0 ? 'no curve' : count === 1 ? 'one curve' : `${count} curves`) + sounds;
  return {
    topic: 'Note',
    figure,
    parts: ['No analysis has been made; this report holds ', { key: what }, ' as measured.'],
  };
}
