import type { Phrases } from '../phrase';

const ANALYSES: Record<string, string> = {
  'band-fit': 'Band fit',
  'compression-ladder': 'Compression ladder',
  distortion: 'Distortion',
  'maximum-output': 'Maximum output',
  'mode-annotation': 'Dips and peaks',
  'roll-off': 'Roll-off',
  'setting-difference': 'Setting difference',
};
const WHY_ASIDE = {
  scale: 'its levels are on another scale than those of most runs',
  drive: 'its drive is not known',
  range: 'it shares too little of its frequency range with the other runs',
};

function nameOf(analysis: string): string {
  return ANALYSES[analysis] ?? analysis;
}

/** The refusal that a caveat tells of; what an earlier version wrote may have none. */
function why(reason: string | undefined): string {
  return reason === undefined ? '' : ` ${reason}`;
}

/** What a report lacks, and which runs and files an analysis or a session did without. */
export const missing = {
  'analysis-missing': ({ analysis }: { analysis: string }, { reason }) =>
    `${nameOf(analysis)} is missing from this report.${why(reason)}`,
  'run-left-out': ({ analysis }: { analysis: string }, { reason }) =>
    `${nameOf(analysis)}: this run was left out.${why(reason)}`,
  'same-run-twice': ({ used, other, same }: { used: string; other: string; same: boolean }) =>
    same
      ? `‘${used}’ and ‘${other}’ hold the same run with the same numbers; the first is used.`
      : `‘${used}’ and ‘${other}’ are of the same run and hold different numbers; only ‘${used}’, the later one, is used. Remove the file that is wrong, or rename it.`,
  'file-refused': (_values: Record<string, never>, { reason }) =>
    `A file of this unit could not be read and is not in this report.${why(reason)}`,
  'files-refused': ({ count }: { count: number }, _where, say) =>
    `${say.count(count, 'more file')} of this unit could not be read; the log names them.`,
  'page-runs-thinned': ({ shown, of }: { shown: number; of: number }, { setting }) =>
    `${setting ? `Setting ‘${setting}’: ` : ''}of ${of} runs the figures show ${shown}, evenly over the drives; the tables beside this page hold all.`,
  'page-figures-left': ({ count }: { count: number }, _where, say) =>
    `${say.count(count, 'more figure does', 'more figures do')} not fit this page; their numbers are in the tables beside it.`,
  'page-tables-left': ({ names }: { names: string }) =>
    `Too large to be held in this page, beside it as files: ${names}.`,
  'noise-unlike': () =>
    'The noise runs do not apply to this run: they are on another scale, or the microphone correction was applied to only one of them.',
  'run-set-aside': ({ analysis, why }: { analysis: string; why: keyof typeof WHY_ASIDE }) =>
    `${nameOf(analysis)}: this run was left out, since ${WHY_ASIDE[why]}.`,
} satisfies Phrases;
