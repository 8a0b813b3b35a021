/**
 * Move labels apart so that none overlaps: least total shift, order kept, inside [top, bottom].
 *
 * @param wanted where each label would like to be, px. @param gap least distance between two, px.
 * @returns where each goes, in the order given; labels that cannot all fit are squeezed evenly.
 *
 * @example
 * stackLabels([10, 10], 12, 0, 100) // [4, 16]
 */
export function stackLabels(wanted: number[], gap: number, top: number, bottom: number): number[] {
  const order = wanted.map((_, index) => index).sort((a, b) => wanted[a] - wanted[b] || a - b);
  const step = order.length > 1 ? Math.min(gap, (bottom - top) / (order.length - 1)) : gap;
  // Pool adjacent violators on positions with the gaps taken out: the least-squares order-keeping fit.
  const pools: { sum: number; count: number }[] = [];
  order.forEach((index, rank) => {
    pools.push({ sum: wanted[index] - rank * step, count: 1 });
    while (pools.length > 1 && mean(pools[pools.length - 2]) > mean(pools[pools.length - 1])) {
      const last = pools.pop()!;
      pools[pools.length - 1].sum += last.sum;
      pools[pools.length - 1].count += last.count;
    }
  });
  const highest = bottom - (order.length - 1) * step;
  const placed = new Array<number>(wanted.length);
  let rank = 0;
  for (const pool of pools) {
    for (let k = 0; k < pool.count; k++, rank++) {
      placed[order[rank]] = Math.min(Math.max(mean(pool), top), highest) + rank * step;
    }
  }
  return placed;
}

function mean(pool: { sum: number; count: number }): number {
  return pool.sum / pool.count;
}
