import type { Ladder } from '../../model/findings';
import { bandAround } from '../../model/octaves';
import type { Limiting } from './findLimiting';

/**
 * Join neighbouring bands that limit into regions.
 *
 * @param bandsHz third-octave centres. @param limiting of each band. @param known whether anything of a band is trusted.
 * @returns regions from low to high. A single band of which nothing is trusted does not part a region; one
 * that does not limit does. Onset: the lowest of its bands. Ceiling: the median of its bands. Kind: what most of its bands are.
 */
export function findRegions(bandsHz: number[], limiting: (Limiting | null)[], known: boolean[]): Ladder['regions'] {
  const groups: number[][] = [];
  limiting.forEach((found, band) => {
    if (!found) return;
    const group = groups[groups.length - 1];
    const before = group?.[group.length - 1];
    const joins = before === band - 1 || (before === band - 2 && !known[band - 1]);
    if (group && joins) group.push(band);
    else groups.push([band]);
  });
  return groups.map((group) => {
    const found = group.map((band) => limiting[band] as Limiting);
    const sharp = found.filter((one) => one.sharp).length;
    return {
      lowHz: bandAround(bandsHz[group[0]], 3)[0],
      highHz: bandAround(bandsHz[group[group.length - 1]], 3)[1],
      onsetDriveDb: Math.min(...found.map((one) => one.onsetDriveDb)),
      ceilingDb: median(found.map((one) => one.ceilingDb)),
      kind: 2 * sharp > found.length ? 'limiter' : 'gradual',
    };
  });
}

function median(values: number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 ? sorted[middle] : 0.5 * (sorted[middle - 1] + sorted[middle]);
}
