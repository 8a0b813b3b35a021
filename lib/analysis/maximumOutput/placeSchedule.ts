import { makeRefusal } from '../../words/makeRefusal';
import type { PlannedBurst } from './burstPlan';
import type { Presence } from './tonePresence';

/** A tone counts as there from this many dB above the noise: noise alone gets there once in 20,000 moments. */
const PRESENT_DB = 10;
const MOST_PPM = 600;
/** So many bursts at once are no chance in noise, wherever a schedule is tried. */
const LEAST_FOUND = 5;
/** What a burst outside the capture, and one inside of which nothing is heard, speak against a place. */
const OUTSIDE_DB = 3;
const SILENT_DB = 4;
/** Places that explain this share of what the best explains are looked at again. */
const RIVAL_SHARE = 0.6;

/** Where a schedule lies: the time of its start in the capture (s), and the recorder's clock over the player's. */
export interface Place {
  startS: number;
  speed: number;
  found: number;
}

/**
 * Place a schedule where it explains most of the tones that a capture holds.
 *
 * @param presences by frequency. @param seconds length of the capture.
 * @throws BassloomError `bursts-not-found`.
 *
 * Notes: each burst counts with the dB by which its tone stands out where it is expected. Levels rise by equal steps, so
 * the schedule moved by whole rounds explains nearly as much; against such rivals speak quiet bursts that should be
 * heard and are not, and bursts outside the capture.
 */
export function placeSchedule(plan: PlannedBurst[], presences: Map<number, Presence>, seconds: number): Place {
  const { hopS } = presences.get(plan[0].hz)!;
  const tones = new Map([...presences].map(([hz, presence]) => [hz, standOut(presence)]));
  const items = plan.map((burst) => ({ burst, tone: tones.get(burst.hz)! }));
  const lengthS = plan[plan.length - 1].atS + plan[plan.length - 1].seconds;
  const firstLag = Math.floor(-lengthS / hopS);
  const lags = Math.ceil(seconds / hopS) - firstLag;
  let best = { score: 0, speed: 1, scores: new Float64Array(0) };
  for (const speed of speeds(lengthS, hopS)) {
    const scores = new Float64Array(lags);
    for (const { burst, tone } of items) addShifted(scores, tone, Math.round((burst.atS * speed) / hopS) + firstLag);
    const score = scores.reduce((most, value) => Math.max(most, value), 0);
    if (score > best.score) best = { score, speed, scores };
  }
  const at = (lag: number) => ({ startS: (lag + firstLag) * hopS, speed: best.speed });
  const judged = peaksOf(best.scores, RIVAL_SHARE * best.score, Math.ceil(0.05 / hopS))
    .map((lag) => ({ ...at(lag), value: best.scores[lag] - objections(items, at(lag), hopS, seconds) }))
    .sort((a, b) => b.value - a.value || a.startS - b.startS);
  const chosen = judged[0];
  if (!chosen) refuse(0, plan.length);
  const inside = items.filter(({ burst }) => isInside(burst, chosen, seconds));
  const found = inside.filter(({ burst, tone }) => levelAt(tone, burst, chosen, hopS) > 0).length;
  const chance = inside.reduce((sum, { tone }) => sum + shareAbove(tone), 0);
  if (!isMoreThanChance(found, inside.length, chance)) refuse(found, inside.length);
  return { startS: chosen.startS, speed: chosen.speed, found };
}

/** Whether more bursts were found than tones would be that sound for as much of the time. @param chance how many. */
function isMoreThanChance(found: number, of: number, chance: number): boolean {
  // four standard deviations more; where tones sound for much of the time (short gaps), half of the way to all
  const enough = Math.min(chance + 4 * Math.sqrt(chance) + 2, (chance + of) / 2);
  return found >= Math.min(LEAST_FOUND, of) && found >= enough && found > chance + 0.02 * of;
}

/** dB above the least that counts; 0 where there is no tone. */
function standOut({ power, noise }: Presence): Float64Array {
  return power.map((p) => Math.max(0, 10 * Math.log10(p / noise) - PRESENT_DB) || 0);
}

/** Clock ratios close enough together to keep both ends of the schedule within two hops. */
function speeds(lengthS: number, hopS: number): number[] {
  const spacing = (4 * hopS) / lengthS;
  const count = Math.ceil((MOST_PPM * 1e-6) / spacing);
  return Array.from({ length: 2 * count + 1 }, (_, i) => 1 + (i - count) * spacing);
}

function addShifted(scores: Float64Array, tone: Float64Array, shift: number): void {
  const from = Math.max(0, -shift);
  const to = Math.min(scores.length, tone.length - shift);
  for (let i = from; i < to; i++) scores[i] += tone[i + shift];
}

/** Highest points of all stretches of some width that reach a height. */
function peaksOf(scores: Float64Array, height: number, width: number): number[] {
  const peaks: number[] = [];
  for (let i = 0; i < scores.length; i++) {
    if (scores[i] < height) continue;
    const last = peaks[peaks.length - 1];
    if (last === undefined || i - last > width) peaks.push(i);
    else if (scores[i] > scores[last]) peaks[peaks.length - 1] = i;
  }
  return peaks;
}

interface Item {
  burst: PlannedBurst;
  tone: Float64Array;
}
type Somewhere = Pick<Place, 'startS' | 'speed'>;

/** What speaks against a place, dB in the same sense as its score. */
function objections(items: Item[], place: Somewhere, hopS: number, seconds: number): number {
  const seen = items.map(({ burst, tone }) => ({ burst, level: levelAt(tone, burst, place, hopS) }));
  let sum = 0;
  let silent = 0;
  for (const { burst, level } of seen) {
    if (!isInside(burst, place, seconds)) sum += OUTSIDE_DB;
    else if (level === 0) {
      const heard = seen.filter(({ burst: b, level: l }) => b.hz === burst.hz && l > 0);
      const quietest = heard.reduce<(typeof heard)[number] | undefined>(
        (least, one) => (!least || one.burst.levelDbfs < least.burst.levelDbfs ? one : least),
        undefined,
      );
      // one that is quieter than all that are heard should be fainter by the difference of their levels, and no more
      const isQuieter = quietest && burst.levelDbfs < quietest.burst.levelDbfs;
      // quiet ones drown in noise more often than loud ones fail
      silent += isQuieter ? 1 : 1.5;
      sum += isQuieter ? Math.max(0, quietest.level - 3 - quietest.burst.levelDbfs + burst.levelDbfs) : 0;
    }
  }
  // a unit that has given up gives up many bursts, so each further one says less
  return sum + SILENT_DB * Math.sqrt(silent);
}

function isInside({ atS, seconds }: PlannedBurst, { startS, speed }: Somewhere, captureS: number): boolean {
  const begins = startS + speed * atS;
  return begins >= 0 && begins + seconds <= captureS;
}

function levelAt(tone: Float64Array, burst: PlannedBurst, { startS, speed }: Somewhere, hopS: number): number {
  const at = Math.round((startS + speed * burst.atS) / hopS);
  let most = 0;
  for (let k = at - 2; k <= at + 2; k++) most = Math.max(most, tone[k] ?? 0);
  return most;
}

function shareAbove(tone: Float64Array): number {
  let count = 0;
  for (const level of tone) if (level > 0) count++;
  return tone.length > 0 ? count / tone.length : 0;
}

function refuse(found: number, of: number): never {
  throw makeRefusal('bursts-not-found', { found, of }, { field: 'stimulus' });
}
