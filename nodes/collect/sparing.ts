import type { Measurement } from '../../lib/model/curve';

/** Grids that are remembered: those of a few programs that export. */
const MOST_GRIDS = 16;

/**
 * Make measurements small enough to be held by the ten thousand: curves on one grid share its frequencies, and no array
 * has room to spare, as Node-RED's clones have.
 *
 * @returns a function for one measurement; what it is given is left as it is.
 */
export function sparing(): (measurement: Measurement) => Measurement {
  const grids: number[][] = [];
  const shared = (grid: number[]): number[] => {
    const known = grids.find((one) => isSame(one, grid));
    if (known) return known;
    const own = grid.slice();
    grids.unshift(own);
    grids.length = Math.min(grids.length, MOST_GRIDS);
    return own;
  };
  return (measurement) => {
    if (measurement.kind !== 'curve') return measurement;
    const { frequencyHz, levelDb, phaseDeg, noiseDb } = measurement;
    return {
      ...measurement,
      frequencyHz: shared(frequencyHz),
      levelDb: levelDb.slice(),
      ...(phaseDeg && { phaseDeg: phaseDeg.slice() }),
      ...(noiseDb && { noiseDb: noiseDb.slice() }),
    };
  };
}

/** The same with frequencies of its own, as it leaves the node: who changes those of one curve must not change all. */
export function unshared(measurement: Measurement): Measurement {
  return measurement.kind === 'curve' ? { ...measurement, frequencyHz: measurement.frequencyHz.slice() } : measurement;
}

function isSame(a: number[], b: number[]): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}
