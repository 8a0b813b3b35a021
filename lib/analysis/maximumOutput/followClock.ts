import { median } from '../fitting/median';
import type { PlannedBurst } from './burstPlan';
import type { Place } from './placeSchedule';
import type { Presence } from './tonePresence';

/** When bursts arrive in a capture. */
export interface Clock {
  /** Start of the schedule in the capture, s; negative where the recorder started late. */
  startS: number;
  /** How much faster the recorder's clock ran than the player's, parts per million. */
  clockPpm: number;
  /** Time in the capture at which a burst begins, s. */
  arrivalS(burst: PlannedBurst): number;
}

/** Bursts this far above the noise tell the time, dB. */
const TELLING_DB = 15;
/** Clocks of players and recorders usually agree within this: 100 parts per million (common practice, no source). */
const USUAL = 1e-4;
/** Scatter of the time at which a burst is strongest, s: at least, and where it cannot be told. */
const LEAST_SCATTER_S = 1e-4;
const UNKNOWN_SCATTER_S = 0.01;
/** A burst is looked for this far from where the coarse search put it: in seconds, and in shares of its length. */
const SEARCH_S = 0.03;
const SEARCH_SHARE = 0.25;

/**
 * Refine a schedule's place and clock from where each burst is strongest.
 *
 * Notes: all bursts of one frequency share the delay that room and unit give to it, so the clock's drift is the common
 * slope of their delays over time (least squares, then once more without those beyond three median deviations).
 */
export function followClock(plan: PlannedBurst[], presences: Map<number, Presence>, place: Place): Clock {
  const told = plan.flatMap((burst) => {
    const late = lateness(burst, presences.get(burst.hz)!, place);
    return late === undefined ? [] : [{ hz: burst.hz, atS: burst.atS, late }];
  });
  const { slope: found, error } = robustSlope(told);
  // where few bursts tell, clocks are as far apart as clocks usually are
  const sure = USUAL ** 2 / (USUAL ** 2 + error ** 2);
  const speed = 1 + sure * (place.speed + found - 1);
  const slope = speed - place.speed;
  const rest = told.map(({ hz, atS, late }) => ({ hz, late: late - slope * atS }));
  const common = middle(rest.map(({ late }) => late)) ?? 0;
  const byHz = new Map<number, number>();
  for (const hz of presences.keys()) {
    byHz.set(hz, middle(rest.filter((one) => one.hz === hz).map(({ late }) => late)) ?? common);
  }
  return {
    startS: place.startS + common,
    clockPpm: (speed - 1) * 1e6,
    arrivalS: ({ hz, atS }) => place.startS + (byHz.get(hz) ?? common) + speed * atS,
  };
}

/** How much later than expected a burst is strongest, s; undefined where it is too faint or at the edge of the search. */
function lateness(burst: PlannedBurst, { power, noise, hopS }: Presence, place: Place): number | undefined {
  const expected = (place.startS + place.speed * burst.atS) / hopS;
  const reach = (SEARCH_S + SEARCH_SHARE * burst.seconds) / hopS;
  const [from, to] = [Math.ceil(expected - reach), Math.floor(expected + reach)];
  if (from < 1 || to > power.length - 2) return undefined;
  let most = from;
  for (let k = from; k <= to; k++) if (power[k] > power[most]) most = k;
  if (most === from || most === to || power[most] < noise * 10 ** (TELLING_DB / 10)) return undefined;
  const [a, b, c] = [power[most - 1], power[most], power[most + 1]];
  const bend = a - 2 * b + c;
  return (most + (bend < 0 ? (0.5 * (a - c)) / bend : 0) - expected) * hopS;
}

interface Told {
  hz: number;
  atS: number;
  late: number;
}

/** Slope and its standard error. */
function robustSlope(told: Told[]): { slope: number; error: number } {
  const first = slopeOf(told);
  const left = leftOver(told, first);
  const typical = middle(left.map(Math.abs)) ?? 0;
  const kept = told.filter((_, i) => Math.abs(left[i]) <= 3 * typical + 1e-9);
  const used = kept.length >= told.length / 2 ? kept : told;
  const slope = slopeOf(used);
  const across = Math.sqrt(withoutMeans(used).reduce((sum, { x }) => sum + x * x, 0));
  const free = used.length - new Set(used.map(({ hz }) => hz)).size - 1;
  const squares = leftOver(used, slope).reduce((sum, y) => sum + y * y, 0);
  const scatter = free > 0 ? Math.max(LEAST_SCATTER_S, Math.sqrt(squares / free)) : UNKNOWN_SCATTER_S;
  return { slope, error: across > 0 ? scatter / across : Number.POSITIVE_INFINITY };
}

function slopeOf(told: Told[]): number {
  const points = withoutMeans(told);
  const across = points.reduce((sum, { x }) => sum + x * x, 0);
  return across > 0 ? points.reduce((sum, { x, y }) => sum + x * y, 0) / across : 0;
}

function leftOver(told: Told[], slope: number): number[] {
  return withoutMeans(told).map(({ x, y }) => y - slope * x);
}

/** Time and lateness less the means of their frequency. */
function withoutMeans(told: Told[]): { x: number; y: number }[] {
  const sums = new Map<number, { n: number; x: number; y: number }>();
  for (const { hz, atS, late } of told) {
    const sum = sums.get(hz) ?? { n: 0, x: 0, y: 0 };
    sums.set(hz, { n: sum.n + 1, x: sum.x + atS, y: sum.y + late });
  }
  return told.map(({ hz, atS, late }) => {
    const { n, x, y } = sums.get(hz)!;
    return { x: atS - x / n, y: late - y / n };
  });
}

function middle(values: number[]): number | undefined {
  return values.length > 0 ? median(values) : undefined;
}
