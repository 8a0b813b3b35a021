import type { Interval } from '../../model/curve';
import { makeCurve } from '../../model/makeCurve';
import { type BoundaryCancellation, boundaryCancellations } from '../../room/boundaryCancellations';
import { modeCount } from '../../room/modeCount';
import { predictTransfer } from '../../room/predictTransfer';
import { checkRoom, type Room } from '../../room/room';
import { type Mode, roomModes } from '../../room/roomModes';
import { type RoomTrace, roomTrace } from './roomTrace';
import { type TraceFeature, traceFeatures } from './traceFeatures';

/** A mode, and what it gives at one frequency between source and microphone. */
export interface ModeShare {
  mode: Mode;
  re: number;
  im: number;
  size: number;
}

/** What a room should show. */
export interface RoomPredictor {
  modes: Mode[];
  /** Modes that overlap at a frequency: half-power width times modes per Hz. */
  overlapAt(hz: number): number;
  /** What is known beyond that where source and microphone are; null where they are not. */
  placed: PlacedPrediction | null;
}

/** What a room should show between source and microphone. */
export interface PlacedPrediction {
  trace: RoomTrace;
  /** Dips and peaks of the transfer. */
  features: TraceFeature[];
  boundaries: BoundaryCancellation[];
  /** Each mode's part of the transfer at a frequency, strongest first; the uniform pressure is the mode (0, 0, 0). */
  sharesAt(hz: number): ModeShare[];
}

/** Dips and peaks that the room should show even if they are too shallow to be listed by themselves, dB. */
const SHALLOWEST_DB = 1.5;

const POINTS_PER_OCTAVE = 72;

/** Rooms that are kept: all units of a day stand in one or two. */
const KEPT = 4;
const known = new Map<string, RoomPredictor>();

/**
 * Work out what a room should show in a range of frequencies; once for units that stand in the same.
 *
 * @throws BassloomError as for any room.
 */
export function roomPredictor(room: Room, rangeHz: Interval): RoomPredictor {
  const key = JSON.stringify([room, rangeHz]);
  const old = known.get(key);
  if (old) return old;
  const predictor = makePredictor(room, rangeHz);
  known.set(key, predictor);
  if (known.size > KEPT) known.delete(known.keys().next().value!);
  return predictor;
}

function makePredictor(room: Room, rangeHz: Interval): RoomPredictor {
  const { decayS, source, microphone } = checkRoom(room);
  const modes = roomModes(room, { toHz: rangeHz[1] * 1.5 });
  const overlapAt = (hz: number) =>
    ((modeCount(room, hz * 1.05) - modeCount(room, hz / 1.05)) / (hz * 0.0976)) * (2.2 / decayS);
  return { modes, overlapAt, placed: source && microphone ? placedPrediction(room, modes, rangeHz) : null };
}

function placedPrediction(room: Room, modes: Mode[], [lowHz, highHz]: Interval): PlacedPrediction | null {
  const wide: Interval = [lowHz / 2, highHz * 1.5];
  const points = Math.ceil(POINTS_PER_OCTAVE * Math.log2(wide[1] / wide[0])) + 1;
  const frequencyHz = Array.from({ length: points }, (_, i) => wide[0] * 2 ** (i / POINTS_PER_OCTAVE));
  const { levelDb } = predictTransfer(room, frequencyHz);
  const silence = { power: new Float64Array(points), scatter: new Float64Array(points) };
  const trace = roomTrace(makeCurve({ frequencyHz, levelDb }), wide, silence);
  if (!trace) return null;
  const options = { minProminenceDb: SHALLOWEST_DB, rangeHz: [lowHz / 1.1, highHz * 1.1] as Interval };
  return {
    trace,
    features: traceFeatures(trace, options),
    boundaries: boundaryCancellations(room, { toHz: highHz * 1.1 }),
    sharesAt: sharesOf(room, modes),
  };
}

function sharesOf(room: Room, modes: Mode[]): PlacedPrediction['sharesAt'] {
  const { sizeM, c, damping } = checkRoom(room);
  const uniform: Mode = { frequencyHz: 0, order: [0, 0, 0], kind: 'axial' };
  // psi(source) psi(microphone) over the mean square of psi
  const couplings = [uniform, ...modes].map((mode) =>
    mode.order.reduce((product, n, i) => {
      const k = (n * Math.PI) / sizeM[i];
      return product * (n === 0 ? 1 : 2) * Math.cos(k * room.source![i]) * Math.cos(k * room.microphone![i]);
    }, 1),
  );
  return (hz) => {
    const w = 2 * Math.PI * hz;
    return [uniform, ...modes]
      .map((mode, i): ModeShare => {
        const x = (2 * Math.PI * mode.frequencyHz) ** 2 - w * w;
        const y = 2 * damping * w;
        const square = x * x + y * y;
        const scale = (couplings[i] * c * c) / square;
        return { mode, re: scale * x, im: -scale * y, size: Math.abs(scale) * Math.sqrt(square) };
      })
      .sort((a, b) => b.size - a.size);
  };
}
