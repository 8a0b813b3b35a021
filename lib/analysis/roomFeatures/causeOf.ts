import type { CaveatValues } from '../../model/caveat';
import type { RoomFeature } from '../../model/findings';
import type { Mode } from '../../room/roomModes';
import { describeCause } from '../../words/describeCause';
import type { ModeShare, PlacedPrediction, RoomPredictor } from './roomPredictor';
import type { TraceFeature } from './traceFeatures';

/** A cause, and how likely it is rather than chance, 0..1. */
export interface Explanation {
  cause: RoomFeature['cause'];
  explains: number;
}

type Sought = Pick<TraceFeature, 'kind' | 'frequencyHz' | 'prominenceDb'>;

/**
 * How far off predictions are where the room is known by tape: standard deviation, octaves. This and what follows is
 * tuned on 200 drawn rooms (modes off by 0.7 %, sizes by up to 1.5 %, places by 5 cm) and units with two dips or peaks of
 * their own: four in five of the room's dips and three in four of its peaks are explained, 8 in 100 of the unit's dips
 * and peaks in the right room, 2 in 100 in free field, 1 in 100 of the features where the room given is another one.
 */
const SPREAD_OCTAVES = 0.028;

/** Nothing further off is looked at. */
const REACH_OCTAVES = 0.07;

/** How unlike prominences are, natural logarithm of their ratio: of a room's feature and its prediction, and by chance. */
const SIZE_SPREAD = 0.5;
const CHANCE_SIZE_SPREAD = 1;

/** Part of the features of a curve that are the room's where its whole shape is. */
const USUALLY_ROOM = 0.85;

/** A cause that is less likely is not named: two to one. */
const LIKELY = 2 / 3;

/** Without places: a mode that lies as near by chance more often than once in twenty is not named. */
const MOST_CHANCE = 0.05;
const NEAREST_OCTAVES = 0.005;

/** Width over which the density of candidates is counted, octaves. */
const AROUND_OCTAVES = 0.5;

/** A reflection that takes less than this from the direct sound is no cause, dB; how near a cancellation must be. */
const SHALLOWEST_DB = -6;
const BOUNDARY_OCTAVES = 0.05;

/** From so many overlapping modes on (three is Schroeder's limit) one reflection tells more than two modes. */
const CROWDED = 2;

/**
 * Explain features of one response by what the room should show. What lies no nearer than chance would have it is not
 * explained.
 *
 * @param features as seen. @param room what it should show; where its places are known, its whole curve must be known
 * to resemble the measured one.
 * @returns for each feature an explanation or null.
 *
 * Notes: a predicted feature explains one seen feature of its kind, the nearest and most alike first. The explanation
 * is weighed against chance by the rule of Bayes: 85 % of the features are taken to be the room's, off by 0.028 octave
 * (standard deviation) and by half of their size; a stranger finds its nearest candidate wherever their density has it.
 * Without places only peaks are explained, by a mode that lies so near that chance gives it once in twenty at most.
 */
export function causesOf(features: Sought[], room: RoomPredictor): (Explanation | null)[] {
  const { placed } = room;
  if (!placed) return features.map((feature) => (feature.kind === 'peak' ? nearestMode(feature, room) : null));
  return matched(features, placed.features).map((match, i) => {
    if (!match || match.explains < LIKELY) return null;
    const hz = features[i].frequencyHz;
    const { predicted, explains } = match;
    if (predicted.kind === 'dip') return { cause: dipCause(hz, predicted, room, placed), explains };
    return { cause: peakCause(hz, predicted, placed), explains };
  });
}

interface Match {
  predicted: TraceFeature;
  explains: number;
}

function matched(features: Sought[], predictions: TraceFeature[]): (Match | undefined)[] {
  const pairs = features.flatMap((feature, seen) =>
    predictions
      .filter((one) => one.kind === feature.kind && octavesApart(one.frequencyHz, feature.frequencyHz) <= REACH_OCTAVES)
      .map((predicted) => ({ seen, predicted, explains: likelihood(feature, predicted, predictions) })),
  );
  const matches = new Array<Match | undefined>(features.length).fill(undefined);
  const taken = new Set<TraceFeature>();
  for (const { seen, predicted, explains } of pairs.sort((a, b) => b.explains - a.explains)) {
    if (matches[seen] || taken.has(predicted)) continue;
    matches[seen] = { predicted, explains };
    taken.add(predicted);
  }
  return matches;
}

/** That a predicted feature is the seen one, rather than that a stranger has come to lie there. */
function likelihood(seen: Sought, predicted: TraceFeature, predictions: TraceFeature[]): number {
  const candidates = predictions.filter(
    (one) => one.kind === seen.kind && octavesApart(one.frequencyHz, predicted.frequencyHz) <= AROUND_OCTAVES / 2,
  );
  const unlike = Math.log(predicted.prominenceDb / seen.prominenceDb);
  const apart = octavesApart(seen.frequencyHz, predicted.frequencyHz);
  const ours = USUALLY_ROOM * normal(apart, SPREAD_OCTAVES) * normal(unlike, SIZE_SPREAD);
  const density = candidates.length / AROUND_OCTAVES;
  return ours / (ours + (1 - USUALLY_ROOM) * density * normal(unlike, CHANCE_SIZE_SPREAD));
}

function normal(x: number, deviation: number): number {
  return Math.exp(-0.5 * (x / deviation) ** 2) / (deviation * Math.sqrt(2 * Math.PI));
}

function octavesApart(a: number, b: number): number {
  return Math.abs(Math.log2(a / b));
}

function dipCause(hz: number, dip: TraceFeature, room: RoomPredictor, placed: PlacedPrediction): RoomFeature['cause'] {
  const boundary = placed.boundaries
    .filter((one) => one.levelDb <= SHALLOWEST_DB && octavesApart(hz, one.frequencyHz) <= BOUNDARY_OCTAVES)
    .sort((a, b) => octavesApart(hz, a.frequencyHz) - octavesApart(hz, b.frequencyHz))[0];
  if (boundary && room.overlapAt(hz) >= CROWDED) {
    const values = { boundary: boundary.boundary, detourM: boundary.pathDifferenceM };
    return causeAt('boundary', values, hz, boundary.frequencyHz);
  }
  return causeAt('interference', opponents(placed.sharesAt(dip.frequencyHz)), hz, dip.frequencyHz);
}

/** The strongest mode, and the strongest of those that work against it. */
function opponents(shares: ModeShare[]): CaveatValues {
  const [first] = shares;
  const against = shares.find((other) => first.re * other.re + first.im * other.im < 0) ?? shares[1];
  const [low, high] = [first.mode, against.mode].sort((a, b) => a.frequencyHz - b.frequencyHz);
  return {
    order: low.order.join(','),
    frequencyHz: low.frequencyHz,
    otherOrder: high.order.join(','),
    otherHz: high.frequencyHz,
  };
}

function nearestMode({ frequencyHz: hz }: Sought, { modes }: RoomPredictor): Explanation | null {
  const near = modes.filter((mode) => octavesApart(mode.frequencyHz, hz) <= AROUND_OCTAVES / 2);
  if (near.length === 0) return null;
  const nearest = near.reduce((a, b) => (octavesApart(b.frequencyHz, hz) < octavesApart(a.frequencyHz, hz) ? b : a));
  const apart = Math.max(octavesApart(nearest.frequencyHz, hz), NEAREST_OCTAVES);
  const chance = 1 - Math.exp((-2 * apart * near.length) / AROUND_OCTAVES);
  if (chance > MOST_CHANCE) return null;
  return { cause: modeCause(nearest, hz), explains: 1 - chance };
}

/** The strongest mode at a peak, at its own frequency, or the peak of several that add up away from it. */
function peakCause(hz: number, peak: TraceFeature, { sharesAt }: PlacedPrediction): RoomFeature['cause'] {
  const { mode } = sharesAt(peak.frequencyHz).find((share) => share.mode.frequencyHz > 0)!;
  const isNear = octavesApart(mode.frequencyHz, peak.frequencyHz) <= REACH_OCTAVES;
  return modeCause(mode, hz, isNear ? mode.frequencyHz : peak.frequencyHz);
}

function modeCause({ kind, order, frequencyHz }: Mode, hz: number, predictedHz = frequencyHz): RoomFeature['cause'] {
  return causeAt('mode', { kind, order: order.join(','), frequencyHz }, hz, predictedHz);
}

function causeAt(
  type: RoomFeature['cause']['type'],
  values: CaveatValues,
  seenHz: number,
  predictedHz: number,
): RoomFeature['cause'] {
  return { type, values, detail: describeCause({ type, values }), predictedHz, mismatchHz: seenHz - predictedHz };
}
