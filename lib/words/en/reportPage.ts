import { type Format, NO_BREAK } from '../format';
import { captureTable } from './reportPage/captureTable';
import { glanceTable } from './reportPage/glanceTable';
import { methodTable } from './reportPage/methodTable';
import { safety } from './reportPage/safety';
import { termList } from './reportPage/termList';
import { driveRange } from './verdictParts';

/** Headings, table at a glance, method, captures, doubts and data of a report's page. */
export const reportPage = (say: Format) => ({
  language: 'en',
  unnamed: 'Unnamed unit',
  notNamed: 'not named',
  skip: 'To the findings',
  headlines: 'Findings',
  glance: 'At a glance',
  figures: 'Figures',
  moreFigures: (count: number) => `${say.count(count, 'more figure')}`,
  more: 'Behind the numbers',
  verdict: 'In sentences',
  doubts: 'Doubts and remarks',
  captures: 'Captures',
  method: 'Method',
  terms: 'Terms',
  cautions: 'Safety',
  data: 'Data',
  footer: 'Made with Bassloom from the findings that this page carries.',
  figureLink: 'Fig.',
  figureLabel: (number: number) => `Figure ${number}.`,
  numbers: 'Numbers',
  numbersOf: (number: number) => `Numbers of figure ${number}`,
  doubtMark: 'why doubted',
  noAnalysis: (curves: number, recordings: number) =>
    `No analysis has been made; this report holds ${say.list([
      ...(curves > 0 || recordings === 0 ? [say.count(curves, 'curve')] : []),
      ...(recordings > 0 ? [say.count(recordings, 'recording')] : []),
    ])} as measured.`,
  noConclusion: 'No conclusions were drawn from these findings.',
  mixed: 'Mixed procedures: differences between these runs may come from the way of measuring, not from the unit.',
  warnings: (count: number) => `${say.count(count, 'warning')}: numbers not to be used`,

  /** What was measured, in one line. */
  measured: (counts: {
    runs: number;
    settings: number;
    drivesDb: [low: number, high: number] | null;
    recordings: number;
    procedure: string;
  }) =>
    [
      ...(counts.runs > 0 || counts.recordings === 0 ? [say.count(counts.runs, 'run')] : []),
      ...(counts.settings > 1 ? [`${counts.settings} settings`] : []),
      ...(counts.drivesDb
        ? [
            counts.drivesDb[0] === counts.drivesDb[1]
              ? `drive ${say.drive(counts.drivesDb[0])}`
              : `drive ${driveRange(counts.drivesDb[0], counts.drivesDb[1], say)}`,
          ]
        : []),
      ...(counts.recordings > 0 && counts.runs === 0 ? [say.count(counts.recordings, 'recording')] : []),
      ...(counts.procedure ? [counts.procedure] : []),
    ].join(', '),

  topics: {
    range: 'Range',
    switch: 'Switch',
    limits: 'Limits',
    distortion: 'Distortion',
    output: 'Output',
    shape: 'Shape with drive',
    room: 'Room',
    trust: 'Trust',
    ears: 'Ears',
  } as Record<string, string>,

  ...glanceTable(say),

  ...methodTable(say),

  ...captureTable(say),

  ...termList(say),

  ...safety(say),

  dataWords: {
    all: 'The data of this report, held in this page.',
    left: (hasCurves: boolean, hasHarmonics: boolean) =>
      `All findings of this report, held in this page; the ${hasCurves ? (hasHarmonics ? 'curves and their harmonics' : 'curves') : 'curves of harmonics'} themselves are too large for it and stay in the files they came from.`,
    findings: 'all findings',
    table: 'table',
    thinned: (points: number) => `table, thinned to ${points} points an octave`,
    size: (bytes: number) => (bytes < 1000 ? `${bytes}${NO_BREAK}bytes` : `${Math.round(bytes / 1000)}${NO_BREAK}kB`),
    recordings: 'Recordings',
    recordingsText: 'Named here, but not held in this page: their sound stays in the files it came from.',
    recordingsCaption: 'Recordings of this report',
    recordingsHead: ['Label', 'Role', 'Rate in Hz', 'Channels', 'Length in s', 'Identity'],
  },
});
