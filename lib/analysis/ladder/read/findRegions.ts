import type { Ladder } from '../../../model/findings';
import { bandAround } from '../../../model/octaves';
import { median } from '../../fitting/median';
import type { Limiting } from './findLimiting';

/**
 * Join neighbouring bands that limit into regions.
 *
 * @param bandsHz third-octave centres. @param limiting of each band. @param known whether anything of a band is trusted.
 * @param stepDb one step of drive.
 * @returns regions from low to high. A single band of which nothing is trusted does not part a region; one
 * that does not limit does, and so does a change of kind that lasts for two bands and more on either side: a limiter that
 * guards the bottom is no part of the unit running out above it. Bands whose onsets lie more than a step apart are
 * parted as well. Onset: of the first and of the last of its bands. Ceiling: the median of its bands. Kind: what most of its bands are.
 */
export function findRegions(
  bandsHz: number[],
  limiting: (Limiting | null)[],
  known: boolean[],
  stepDb: number,
): Ladder['regions'] {
  const groups: number[][] = [];
  limiting.forEach((found, band) => {
    if (!found) return;
    const group = groups[groups.length - 1];
    const before = group?.[group.length - 1];
    const joins = before === band - 1 || (before === band - 2 && !known[band - 1]);
    if (group && joins) group.push(band);
    else groups.push([band]);
  });
  const isSharp = (band: number) => (limiting[band] as Limiting).sharp;
  return groups
    .flatMap((group) => partByKind(group, isSharp))
    .flatMap((group) => partByOnset(group, (band) => (limiting[band] as Limiting).onsetDriveDb, stepDb))
    .map((group) => {
      const found = group.map((band) => limiting[band] as Limiting);
      const sharp = found.filter((one) => one.sharp).length;
      return {
        lowHz: bandAround(bandsHz[group[0]], 3)[0],
        highHz: bandAround(bandsHz[group[group.length - 1]], 3)[1],
        onsetDriveDb: Math.min(...found.map((one) => one.onsetDriveDb)),
        onsetToDriveDb: Math.max(...found.map((one) => one.onsetDriveDb)),
        ceilingDb: median(found.map((one) => one.ceilingDb)),
        kind: 2 * sharp > found.length ? 'limiter' : 'gradual',
      };
    });
}

/** Fewer bands of a kind in a row are no region of their own. */
const FEWEST = 2;

function partByKind(group: number[], isSharp: (band: number) => boolean): number[][] {
  const rows: number[][] = [];
  for (const band of group) {
    const row = rows[rows.length - 1];
    if (row && isSharp(row[0]) === isSharp(band)) row.push(band);
    else rows.push([band]);
  }
  const lasting = rows.filter((row) => row.length >= FEWEST);
  const parts: number[][] = [];
  let kind: boolean | undefined;
  for (const row of rows) {
    const starts = lasting.includes(row) && kind !== undefined && isSharp(row[0]) !== kind;
    if (lasting.includes(row)) kind = isSharp(row[0]);
    if (parts.length === 0 || starts) parts.push([...row]);
    else parts[parts.length - 1].push(...row);
  }
  return parts;
}

/** Part a row until the onsets of each part lie within a step, each time where they part best. A single band whose neighbours agree is no region of its own. */
function partByOnset(group: number[], onsetOf: (band: number) => number, stepDb: number): number[][] {
  const onsets = group.map(onsetOf);
  const smooth = onsets.map((onset, i) => {
    const beside = [onsets[i - 1], onsets[i + 1]].filter((other) => other !== undefined);
    const isAlone = beside.length === 2 && beside.every((other) => Math.abs(onset - other) > stepDb);
    return isAlone && Math.abs(beside[0] - beside[1]) <= stepDb ? median(beside) : onset;
  });
  const spreadOf = (from: number, to: number) =>
    Math.max(...smooth.slice(from, to)) - Math.min(...smooth.slice(from, to));
  const part = (from: number, to: number): number[][] => {
    if (spreadOf(from, to) <= stepDb) return [group.slice(from, to)];
    let at = from + 1;
    for (let k = at + 1; k < to; k++) {
      if (spreadOf(from, k) + spreadOf(k, to) < spreadOf(from, at) + spreadOf(at, to)) at = k;
    }
    return [...part(from, at), ...part(at, to)];
  };
  return part(0, group.length);
}
