import type { Fundamental, Transfer } from './fundamental';

/** Arrival of the direct sound, s. */
export function findDelay(transfer: Transfer, _fundamental: Fundamental): number {
  return transfer.arrivalS;
}
