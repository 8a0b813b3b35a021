import type { MaximumOutput } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import { formatDb, formatHz, formatHzRange, formatList, formatNumber, NO_BREAK } from '../format';
import type { SettingView } from '../session';
import { plainName } from '../text';
import { QUOTED_HZ } from './ceilingSentences';
import { ordinal } from './rangeSentences';
import { about, cautionOf, type Part, type Sentence } from './sentence';

type Centre = MaximumOutput['centres'][number];

/** How loud it goes in short bursts before a harmonic passes its limit, and what stops it. */
export function outputSentences(view: SettingView, figure?: string): Sentence[] {
  const output = view.maximumOutput;
  if (!output || output.centres.length === 0) return [];
  const { centres, averages } = output;
  const known = centres.filter(({ levelAtMicrophoneDb }) => levelAtMicrophoneDb !== null);
  if (known.length === 0) {
    const parts = about(view, 'no burst passed the limits for maximum output ', { key: 'at any centre' }, '.');
    return [{ topic: 'Maximum output', figure, warning: true, parts }];
  }
  const means = averages.flatMap((one) => {
    const peak = peakOf(one);
    if (peak === null) return [];
    const rms = one.rmsAt2mDb === null ? '' : ` (${formatDb(one.rmsAt2mDb)} rms)`;
    return [`${one.atLeast ? 'at least ' : ''}${formatDb(peak)} peak${rms} in the ${averageName(one)}`];
  });
  const [first, ...rest] = [...means, ...quotedCentres(centres).map(centreWords)];
  const parts: Part[] = [
    'in short bursts it reaches ',
    { key: first },
    `${rest.length > 1 ? ', ' : rest.length === 1 ? ' and ' : ''}${formatList(rest)}; ${placeWords(output)}. ${stopSentence(known)}${cautionOf(output)}`,
  ];
  return [{ topic: 'Maximum output', figure, parts: about(view, ...parts) }];
}

/** The centres that levels are quoted at; where none of them passed, the lowest that did. */
function quotedCentres(centres: Centre[]): Centre[] {
  const known = centres.filter(({ levelAtMicrophoneDb }) => levelAtMicrophoneDb !== null);
  const quoted = known.filter(({ centreHz }) => [20, 31.5, 63].includes(nominalHz(centreHz)));
  return quoted.length > 0 ? quoted : known.slice(0, 1);
}

/** Peak level at 1 m, or at the microphone where it cannot be brought there. */
export function peakOf(one: { levelAtMicrophoneDb: number | null; peakAt1mDb: number | null }): number | null {
  return one.peakAt1mDb ?? one.levelAtMicrophoneDb;
}

/** Whether levels are those at 1 m and 2 m. */
export function isAtOneMetre({ centres }: MaximumOutput): boolean {
  return centres.some(({ peakAt1mDb }) => peakAt1mDb !== null);
}

function centreWords(centre: Centre): string {
  const { centreHz, stoppedBy, trusted } = centre;
  const level = formatDb(peakOf(centre) as number);
  return `${stoppedBy === 'schedule' ? 'at least ' : ''}${level} at ${formatHz(nominalHz(centreHz))}${trusted ? '' : ' (untrusted)'}`;
}

/** Where the levels hold. */
export function placeWords(output: MaximumOutput): string {
  const unit = output.scale === 'spl' ? '' : ', in relative dB';
  return !isAtOneMetre(output)
    ? `peak levels at the microphone${unit}`
    : `peaks at 1${NO_BREAK}m, rms at 2${NO_BREAK}m${unit}`;
}

/** How often each cause stopped it, the commonest first. */
function stopSentence(centres: Centre[]): string {
  const counts = new Map<Centre['stoppedBy'], number>();
  for (const { stoppedBy } of centres) counts.set(stoppedBy, (counts.get(stoppedBy) ?? 0) + 1);
  const words = [...counts]
    .sort((a, b) => b[1] - a[1])
    .map(([stop, count], k) => `${STOP_WORDS[stop]} at ${count}${k === 0 ? ` of ${centres.length} centres` : ''}`);
  return `It was stopped by ${formatList(words)}.`;
}

const STOP_WORDS: Record<Centre['stoppedBy'], string> = {
  distortion: 'distortion',
  compression: 'compression',
  schedule: 'the end of the schedule',
  noise: 'noise',
  clipping: 'clipping of the capture',
};

/** What stopped one centre, with the harmonic that passed its limit. */
export function stopWords({ stoppedBy, harmonic, levelAtMicrophoneDb }: Centre): string {
  if (stoppedBy === 'schedule')
    return levelAtMicrophoneDb === null ? 'end of the schedule' : 'end of the schedule: at least this loud';
  if (stoppedBy !== 'distortion' || !harmonic) return STOP_WORDS[stoppedBy];
  return `distortion: ${ordinal(harmonic.order)} harmonic at ${formatNumber(harmonic.levelDb, 1)} dB, limit ${formatNumber(harmonic.limitDb, 0)} dB`;
}

/** Peak level at a centre for the table at a glance. */
export function outputText({ maximumOutput }: SettingView, hz: number): string | null {
  const centre = maximumOutput?.centres.find(({ centreHz }) => nominalHz(centreHz) === hz);
  if (!centre) return null;
  const peak = peakOf(centre);
  if (peak === null) return 'no burst passed';
  const level = `${centre.stoppedBy === 'schedule' ? 'at least ' : ''}${formatDb(peak)}`;
  return centre.trusted ? level : `${level} (untrusted)`;
}

/** The bands of which maximum output is told at a glance, Hz. */
export const GLANCE_HZ = QUOTED_HZ.slice(0, 1);

/** 'low bass (20–31.5 Hz)'. */
export function averageName({ name, centresHz }: MaximumOutput['averages'][number]): string {
  const range = centresHz.length > 0 ? [Math.min(...centresHz), Math.max(...centresHz)].map(nominalHz) : [];
  return range.length > 0 ? `${plainName(name)} (${formatHzRange(range[0], range[1])})` : plainName(name);
}
