import type { Phrases } from '../phrase';

/** Room features and band fit. */
export const room = {} satisfies Phrases;
