import { thirdOctaveCentres } from '../../model/octaves';
import { makeRefusal } from '../../words/makeRefusal';
import type { Rung } from './cells';

/** Share of the rungs that must hold a band; of three and more, one may always lack it. */
const HELD = 0.75;

/**
 * List the third octaves that lie wholly in the range of all rungs, or of all but few: a rung that begins late lacks its
 * own cells, no more.
 *
 * @returns exact base-10 centres, Hz (IEC 61260-1:2014).
 * @throws BassloomError `no-whole-band`.
 */
export function commonBands(rungs: Rung[]): number[] {
  const lows = rungs.map(({ curves }) => Math.max(...curves.map(({ frequencyHz }) => frequencyHz[0])));
  const highs = rungs.map(({ curves }) =>
    Math.min(...curves.map(({ frequencyHz }) => frequencyHz[frequencyHz.length - 1])),
  );
  const enough = rungs.length < 3 ? rungs.length : Math.min(rungs.length - 1, Math.ceil(HELD * rungs.length));
  const lowHz = lows.sort((a, b) => a - b)[enough - 1];
  const highHz = highs.sort((a, b) => b - a)[enough - 1];
  const bandsHz = thirdOctaveCentres(lowHz, highHz);
  if (bandsHz.length === 0) {
    throw makeRefusal('no-whole-band', { of: 'ladder', lowHz1: lowHz, highHz1: highHz }, { field: 'frequencyHz' });
  }
  return bandsHz;
}
