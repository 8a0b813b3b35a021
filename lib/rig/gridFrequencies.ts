import { makeRefusal } from '../words/makeRefusal';
import type { GridSpec } from './rigSpec';

/**
 * List the frequencies of a measurement grid.
 *
 * @param grid logarithmic (points per octave of 2:1) or linear (Hz between points); both ends in Hz.
 * @returns frequencies in Hz from `startHz` up, none above `endHz`.
 * @throws BassloomError `bad-grid`.
 *
 * @example
 * gridFrequencies({ kind: 'linear', startHz: 10, endHz: 12, stepHz: 1 }) // [10, 11, 12]
 */
export function gridFrequencies(grid: GridSpec): number[] {
  const { startHz, endHz } = grid;
  const density = grid.kind === 'log' ? grid.pointsPerOctave : 1 / grid.stepHz;
  if (!(startHz > 0 && endHz > startHz && density > 0 && Number.isFinite(density))) {
    throw makeRefusal('bad-grid', { startHz, endHz, density }, { field: 'grid' });
  }
  const span = grid.kind === 'log' ? Math.log2(endHz / startHz) : endHz - startHz;
  const points = Math.floor(span * density + 1e-9) + 1; // an end that is a whole number of steps away belongs to it
  return Array.from({ length: points }, (_, i) =>
    grid.kind === 'log' ? startHz * 2 ** (i / density) : startHz + i / density,
  );
}
