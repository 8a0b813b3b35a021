import type { Phrases } from '../phrase';

/** Compression ladder. */
export const ladder = {} satisfies Phrases;
