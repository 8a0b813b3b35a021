import type { BandFit } from '../../model/findings';
import { toHz } from './rounded';

/** Dips closer than this are one, octaves: the same one in two settings. */
const SAME_OCTAVES = 1 / 12;

/** Dips below the reference band that are passed on the way to some down points, each once, rising, Hz. */
export function passedDips(points: readonly BandFit['points'][number][]): number[] {
  const found: number[] = [];
  for (const hz of points.flatMap(({ lowDipsHz = [] }) => lowDipsHz).sort((a, b) => a - b)) {
    const before = found[found.length - 1] ?? 0;
    if (!(Math.log2(hz / before) < SAME_OCTAVES)) found.push(hz);
  }
  return found.map(toHz);
}
