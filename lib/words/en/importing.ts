import type { Phrases } from '../phrase';

/** Import of text, WAV and file names. */
export const importing = {} satisfies Phrases;
