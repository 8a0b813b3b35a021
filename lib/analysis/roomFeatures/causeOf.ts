import type { RoomFeature } from '../../model/findings';
import type { Mode } from '../../room/roomModes';
import type { ModeShare, RoomPredictor } from './roomPredictor';
import type { TraceFeature } from './traceFeatures';

/** A cause, and how well it explains the feature, 0..1. */
export interface Explanation {
  cause: RoomFeature['cause'];
  explains: number;
}

type Sought = Pick<TraceFeature, 'kind' | 'frequencyHz' | 'prominenceDb'>;

/** How far a prediction may be off: a room measured with a tape is wrong by a few per cent. */
const REACH_OCTAVES = 0.07;

/** Mismatch at which a prediction explains 61 % of what it would on the spot. */
const SPREAD_OCTAVES = 0.03;

const BEST = 0.9;

/** A reflection that takes less than this from the direct sound is no cause, dB. */
const SHALLOWEST_DB = -6;

/** How near a cancellation must be; all other paths move the dip. */
const BOUNDARY_OCTAVES = 0.05;

/** From so many overlapping modes on (three is Schroeder's limit) one reflection tells more than two modes. */
const CROWDED = 2;

/** A mode with less than this part of the strongest is not heard at this place. */
const HEARD = 0.3;

/**
 * Explain features of one response by what the room should show.
 *
 * @param features as seen. @param room what it should show.
 * @returns for each feature an explanation or null.
 *
 * Notes: a predicted dip explains one seen dip, the nearest and most alike first. Where modes are crowded and
 * a boundary cancellation lies within 0.05 octave, the boundary is named. A peak belongs to the mode that is
 * strongest there between source and microphone; without their positions to the nearest mode, which explains the
 * less the more modes would lie as near by chance.
 */
export function causesOf(features: Sought[], room: RoomPredictor): (Explanation | null)[] {
  const predicted = matchDips(features, room);
  return features.map((feature, i) => {
    if (feature.kind === 'peak') return room.placed ? strongestMode(feature, room) : nearestMode(feature, room);
    return room.placed ? dipCause(feature.frequencyHz, predicted[i], room) : null;
  });
}

function octavesApart(a: number, b: number): number {
  return Math.abs(Math.log2(a / b));
}

function fits(seenHz: number, predictedHz: number): number {
  return BEST * Math.exp(-0.5 * (octavesApart(seenHz, predictedHz) / SPREAD_OCTAVES) ** 2);
}

function matchDips(features: Sought[], { dips }: RoomPredictor): (TraceFeature | undefined)[] {
  const pairs = features.flatMap((feature, seen) =>
    feature.kind === 'peak'
      ? []
      : dips.map((dip, predicted) => {
          const apart = octavesApart(feature.frequencyHz, dip.frequencyHz);
          const unlike = Math.abs(feature.prominenceDb - dip.prominenceDb) / 15;
          return { seen, predicted, apart, cost: apart / SPREAD_OCTAVES + unlike };
        }),
  );
  const matched = new Array<TraceFeature | undefined>(features.length).fill(undefined);
  const taken = new Set<number>();
  for (const pair of pairs.filter((p) => p.apart <= REACH_OCTAVES).sort((a, b) => a.cost - b.cost)) {
    if (matched[pair.seen] || taken.has(pair.predicted)) continue;
    matched[pair.seen] = dips[pair.predicted];
    taken.add(pair.predicted);
  }
  return matched;
}

function dipCause(hz: number, dip: TraceFeature | undefined, room: RoomPredictor): Explanation | null {
  const predicted = dip ? fits(hz, dip.frequencyHz) : 0;
  const boundary = room.boundaries
    .filter((one) => one.levelDb <= SHALLOWEST_DB && octavesApart(hz, one.frequencyHz) <= BOUNDARY_OCTAVES)
    .sort((a, b) => octavesApart(hz, a.frequencyHz) - octavesApart(hz, b.frequencyHz))[0];
  if (boundary && (!dip || room.overlapAt(hz) >= CROWDED)) {
    const detail = `reflection from the ${boundary.boundary}, detour ${boundary.pathDifferenceM.toFixed(2)} m`;
    // without a predicted dip the reflection is there, but other paths fill its gap
    const explains = Math.max(predicted, 0.5 * fits(hz, boundary.frequencyHz));
    return { cause: causeAt('boundary', detail, hz, boundary.frequencyHz), explains };
  }
  if (!dip) return null;
  const detail = opponents(room.sharesAt(dip.frequencyHz));
  return { cause: causeAt('interference', detail, hz, dip.frequencyHz), explains: predicted };
}

/** The strongest mode, and the strongest of those that work against it. */
function opponents(shares: ModeShare[]): string {
  const [first] = shares;
  const against = shares.find((other) => first.re * other.re + first.im * other.im < 0) ?? shares[1];
  const [low, high] = [first.mode, against.mode].sort((a, b) => a.frequencyHz - b.frequencyHz);
  return `${nameOf(low)} against ${nameOf(high)}`;
}

function nameOf({ order, frequencyHz }: Mode): string {
  if (frequencyHz === 0) return 'uniform pressure (0,0,0)';
  return `mode (${order.join(',')}) at ${frequencyHz.toFixed(1)} Hz`;
}

function strongestMode({ frequencyHz }: Sought, room: RoomPredictor): Explanation | null {
  const shares = room.sharesAt(frequencyHz);
  const near = shares.find(
    (share) =>
      share.size >= HEARD * shares[0].size && octavesApart(share.mode.frequencyHz, frequencyHz) <= REACH_OCTAVES,
  );
  if (!near) return null;
  return { cause: modeCause(near.mode, frequencyHz), explains: fits(frequencyHz, near.mode.frequencyHz) };
}

function nearestMode({ frequencyHz: hz }: Sought, { modes }: RoomPredictor): Explanation | null {
  const near = modes.filter((mode) => octavesApart(mode.frequencyHz, hz) <= SPREAD_OCTAVES);
  if (near.length === 0) return null;
  const nearest = near.reduce((a, b) => (octavesApart(b.frequencyHz, hz) < octavesApart(a.frequencyHz, hz) ? b : a));
  return { cause: modeCause(nearest, hz), explains: (0.5 * fits(hz, nearest.frequencyHz)) / near.length };
}

function modeCause(mode: Mode, hz: number): RoomFeature['cause'] {
  return causeAt('mode', `${mode.kind} ${nameOf(mode)}`, hz, mode.frequencyHz);
}

function causeAt(type: RoomFeature['cause']['type'], detail: string, seenHz: number, predictedHz: number) {
  return { type, detail, predictedHz, mismatchHz: seenHz - predictedHz };
}
