import type { Phrases } from '../phrase';

/** Why a headline is to be taken with care, in a few words; a caveat without an entry speaks for itself. */
export const doubts = {
  'doubt-near-noise': () => 'close to the noise',
  'doubt-capture-not-good': () => 'one of the captures is not good',
  'doubt-captures-not-good': () => 'some of the captures are not good',
  'doubt-ladder-near-noise': () => 'close to the noise',
  'doubt-ladder-noise-unknown': () => 'the noise is not known',
  'doubt-ladder-noise-unknown-bands': () => 'the noise is not known there',
  'doubt-ladder-noise-estimated': () => 'the noise was not measured, only estimated',
  'doubt-ladder-gain-slipped': () => 'a gain was changed between two runs',
  'doubt-ladder-response-changed': () => 'the response changes between two runs',
  'doubt-ladder-not-rising': () => 'the level does not rise with the drive between two runs',
  'doubt-ladder-file-twice': () => 'one file was taken for two runs',
  'doubt-ladder-rungs-swapped': () => 'two runs fit only with their drives exchanged',
  'doubt-ladder-rung-off': () => 'one run does not fit the others',
  'doubt-ladder-part-judged': () => 'only part of the runs fit each other',
  'doubt-ladder-step-differs': () => 'drive steps do not arrive as commanded',
  'doubt-untrusted': () => 'not to be trusted there',
  'doubt-other-run': () => 'read from another run than the one shown',
} satisfies Phrases;
