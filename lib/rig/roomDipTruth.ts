import { bandAround } from '../model/octaves';
import { powerIntegral } from '../response/powerIntegral';
import { cleanSignal } from './cleanSignal';
import type { RigSpec } from './rigSpec';

/** A dip of the room, free of noise and of the unit. */
export interface DipTruth {
  frequencyHz: number;
  /** Topographic: how far the lower of its two shoulders rises above it, dB. */
  prominenceDb: number;
  /** How wide its floor is: octaves from the first to the last point within 0.5 dB of its lowest; two equal minima are one floor. */
  floorOctaves: number;
}

const POINTS_PER_OCTAVE = 384;

/**
 * Find the dips that a rig's room puts between source and microphone.
 *
 * @param rig the bench; free field has none. @param range [low, high] in Hz, default 15 to 200.
 * @param options.minProminenceDb smallest dip to be listed, default 3.
 * @param options.seenThrough also let the unit colour the response (its slopes move shallow dips a little).
 * @returns dips by frequency, after smoothing over 1/24 octave.
 *
 * @example
 * roomDipTruth(drawRig(1)).map((dip) => dip.frequencyHz)
 */
export function roomDipTruth(
  rig: RigSpec,
  range: [number, number] = [15, 200],
  options: { minProminenceDb?: number; seenThrough?: boolean } = {},
): DipTruth[] {
  if (!rig.room) return [];
  const { minProminenceDb = 3, seenThrough = false } = options;
  const startHz = range[0] / 2;
  const points = Math.round(POINTS_PER_OCTAVE * Math.log2((4 * range[1]) / range[0]));
  const frequencyHz = Array.from({ length: points }, (_, i) => startHz * 2 ** (i / POINTS_PER_OCTAVE));
  const clean = cleanSignal(rig, frequencyHz);
  const integral = powerIntegral(frequencyHz, seenThrough ? clean.linearDb({ kind: 'flat' }, 0) : clean.pathDb);
  const smooth = frequencyHz.map((hz) => integral.meanDb(...bandAround(hz, 24)));
  const dips: DipTruth[] = [];
  for (let i = 1; i < points - 1; i++) {
    const isLow = smooth[i] < smooth[i - 1] && smooth[i] <= smooth[i + 1];
    if (!isLow || frequencyHz[i] < range[0] || frequencyHz[i] > range[1]) continue;
    const prominenceDb = Math.min(shoulder(smooth, i, -1), shoulder(smooth, i, 1)) - smooth[i];
    if (prominenceDb < minProminenceDb) continue;
    const floorOctaves = (floorEnd(smooth, i, 1) - floorEnd(smooth, i, -1)) / POINTS_PER_OCTAVE;
    dips.push({ frequencyHz: frequencyHz[i], prominenceDb, floorOctaves });
  }
  return dips;
}

// highest point on the way to somewhere lower, or to the end
function shoulder(levels: number[], from: number, step: 1 | -1): number {
  let highest = levels[from];
  for (let i = from + step; i >= 0 && i < levels.length && levels[i] >= levels[from]; i += step) {
    highest = Math.max(highest, levels[i]);
  }
  return highest;
}

// furthest point within 0.5 dB of the lowest, before the level has risen by 3 dB
function floorEnd(levels: number[], from: number, step: 1 | -1): number {
  let end = from;
  for (let i = from; i >= 0 && i < levels.length && levels[i] < levels[from] + 3; i += step) {
    if (levels[i] <= levels[from] + 0.5) end = i;
  }
  return end;
}
