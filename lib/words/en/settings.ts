import type { Phrases } from '../phrase';

/** Setting difference. */
export const settings = {} satisfies Phrases;
