import type { MaximumOutput } from '../../model/findings';
import { makeRefusal, type RefusalValues } from '../../words/makeRefusal';

export type HarmonicLimit = MaximumOutput['limits'][number];

/**
 * Largest level of each harmonic, dB re the fundamental, as published descriptions of the consumer subwoofer output
 * standard CTA-2010 give them (from memory). The standard itself rules; whoever needs its figures must read it there.
 */
export const HARMONIC_LIMITS: readonly HarmonicLimit[] = [
  { fromOrder: 2, toOrder: 2, limitDb: -10 },
  { fromOrder: 3, toOrder: 3, limitDb: -15 },
  { fromOrder: 4, toOrder: 5, limitDb: -20 },
  { fromOrder: 6, toOrder: 8, limitDb: -30 },
  { fromOrder: 9, toOrder: null, limitDb: -40 },
];

/**
 * Limit of a harmonic, dB re the fundamental: the strictest of those that name it; undefined where none does.
 *
 * @example
 * limitOf(HARMONIC_LIMITS, 7) // -30
 */
export function limitOf(limits: readonly HarmonicLimit[], order: number): number | undefined {
  const own = limits.filter(({ fromOrder, toOrder }) => order >= fromOrder && order <= (toOrder ?? order));
  return own.length > 0 ? Math.min(...own.map(({ limitDb }) => limitDb)) : undefined;
}

/** Limits in their order, or a refusal. @throws BassloomError `bad-limits`. */
export function checkLimits(limits: readonly HarmonicLimit[]): HarmonicLimit[] {
  const isWhole = (order: unknown) => Number.isInteger(order) && (order as number) >= 2;
  if (!Array.isArray(limits) || limits.length === 0) refuse({ why: 'none' });
  for (const { fromOrder, toOrder, limitDb } of limits) {
    if (!isWhole(fromOrder) || !(toOrder === null || (isWhole(toOrder) && toOrder >= fromOrder))) {
      refuse({ why: 'orders', fromOrder, toOrder });
    }
    if (!(Number.isFinite(limitDb) && limitDb <= 40)) refuse({ why: 'level', limitDb });
  }
  return limits.map((limit) => ({ ...limit })).sort((a, b) => a.fromOrder - b.fromOrder);
}

function refuse(values: RefusalValues<'bad-limits'>): never {
  throw makeRefusal('bad-limits', values, { field: 'limits' });
}
