import type { Phrases } from '../phrase';

/** Distortion, maximum output, calibration, exposure. */
export const sound = {} satisfies Phrases;
