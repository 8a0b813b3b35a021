import type { CaveatValue } from '../../../model/caveat';
import { modelRefusals } from '../../../model/refusals';
import type { Format } from '../../format';
import type { Phrases, Place } from '../../phrase';
import { given } from './given';

const WANTED = {
  'whole-hz': 'a whole number of Hz',
  'channel-count': 'from 1 to 256 channels',
  'sound-format': "'pcm16', 'pcm24', 'pcm32', 'float32' or 'float64'",
  orders: 'a whole number from 1 (no harmonics) to 20',
  'hz-above-1': 'a frequency above 1 Hz, such as 500',
  'points-per-octave': 'a number from 3 to 960',
  channel: 'the number of a channel, counted from 1',
  'full-scale': 'a level in dB SPL, such as 124',
  recording: 'a recording',
  curve: 'a curve',
  'db-above-0': 'a number of dB above 0',
  'hz-above-0': 'a number of Hz above 0',
  'ladder-step': "'commanded' or 'measured'",
  text: 'text',
  decimal: "'.' or ','",
  'frequency-unit': "'Hz' or 'kHz'",
  'level-unit': "'dB' or 'linear'",
  'curve-role': "'response', 'noise' or 'correction'",
  'sound-role': "'capture', 'stimulus', 'impulse' or 'programme'",
  scale: "'spl' or 'relative'",
  delimiter: "one character that can separate columns, such as ',', ';', a tab or a blank",
  'most-points': 'a whole number of at least 2',
  'step-db': 'a number of dB',
  'picture-format': "'svg' or 'png'",
  'picture-width': 'a whole number of px from 240 to 4096',
  'picture-height': 'a whole number of px from 200 to 4096',
  theme: "'light', 'dark' or 'paper'",
  'report-format': "'png', 'markdown' or 'text'",
  columns: 'an object that names columns, as { frequency, level }',
  column: 'a heading, or a number counted from 1',
};

/** What more than one room refuses, and what is not a measurement or not findings. */
export const common = {
  'not-measurements': modelRefusals['not-measurements'],
  'bad-measurement': modelRefusals['bad-measurement'],
  'not-findings': modelRefusals['not-findings'],
  'bad-findings': modelRefusals['bad-findings'],
  'unequal-findings': modelRefusals['unequal-findings'],
  'bad-option': (values: { wanted: keyof typeof WANTED; value?: CaveatValue }, { field }: Place, say: Format) =>
    values.value === undefined
      ? `Option ${field} must be ${WANTED[values.wanted]}.`
      : `Option ${field} is ${given(values.value, say)}; it must be ${WANTED[values.wanted]}.`,
  'no-such-channel': (
    { label, channel, channels }: { label: string; channel: CaveatValue; channels: number },
    _where,
    say,
  ) =>
    `${label}: channel is ${given(channel, say)}; ${channels === 1 ? 'there is only channel 1' : `give 1 to ${channels}`}.`,
  'no-curves': ({ to }: { to: 'average' | 'find features' }) =>
    to === 'average'
      ? 'There is nothing to average; give at least one curve.'
      : 'Room features need at least one response; none was given.',
  'nothing-to-draw': ({ kind, view, setting }: { [K in 'kind' | 'view' | 'setting']: CaveatValue }) => {
    const of = [kind, view].flatMap((one) => (one === null ? [] : [`'${one}'`])).join(', ');
    return of
      ? `There is nothing to draw of ${of}${setting === null ? '' : ` for the setting '${setting}'`}: it was not found, or the curves that it was read from are missing. Give both, or leave the choice open.`
      : `There is nothing to draw${setting === null ? '' : ` for the setting '${setting}'`}: give curves with at least two points, or findings that can be drawn.`;
  },
  'worker-failed': ({ task, why }: { task: string; why: string }) =>
    `The thread that worked on '${task}' ended before it was done (${why}). Try again; if it happens again, give a shorter sound.`,
} satisfies Phrases;
