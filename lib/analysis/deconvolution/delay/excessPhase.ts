import type { Fundamental, Transfer } from '../divide/fundamental';
import { minimumPhaseOf } from './logPhase';

/** A response without the phase that goes with its level inside the measured range. */
export interface ExcessPhase {
  /** Steps of equal width over log frequency, Hz. */
  hz: Float64Array;
  /** Nepers. */
  level: Float64Array;
  /** Radians, without jumps; the delay of `aroundS` is taken out. The level counts as constant above the range. */
  phase: Float64Array;
  /** As it is, but for the delay of `aroundS`. */
  rawPhase: Float64Array;
  aroundS: number;
}

export const POINTS_PER_OCTAVE = 120;
const STEP = Math.LN2 / POINTS_PER_OCTAVE;
/** Points with less signal over noise do not count, as power ratio. */
const LEAST_SNR = 4;
/** Level is carried on downwards so far, octaves, and no steeper than 36 dB an octave. */
const BELOW = 3;
const STEEPEST = 6;

/**
 * Excess phase of a response where it stands above its noise.
 *
 * @returns undefined where less than half an octave does.
 */
export function excessPhase(transfer: Transfer, fundamental: Fundamental): ExcessPhase | undefined {
  const { band, arrivalS } = transfer;
  const count = Math.max(0, Math.floor(Math.log2(band.fullTo / band.full) * POINTS_PER_OCTAVE) + 1);
  const all = new Float64Array(count);
  for (let i = 0; i < count; i++) all[i] = band.full * Math.exp(i * STEP);
  const values = fundamental.read(all);
  const power = new Float64Array(count);
  const snr = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    power[i] = values[2 * i] ** 2 + values[2 * i + 1] ** 2;
    snr[i] = power[i] / Math.max(fundamental.noisePower(all[i]), 1e-30);
  }
  const [from, to] = clearRange(snr);
  if (to - from < POINTS_PER_OCTAVE / 2) return undefined;
  const hz = all.slice(from, to);
  const level = new Float64Array(to - from);
  for (let i = 0; i < level.length; i++) level[i] = 0.5 * Math.log(power[from + i]);
  const below = BELOW * POINTS_PER_OCTAVE;
  const { long, slope } = carriedDown(level, below);
  const minimum = minimumPhaseOf(long, STEP, below);
  // below that the slope goes on for ever, and ln coth(u / 2) is 2 exp(-u)
  const rest = (2 / Math.PI) * slope * 2 ** -BELOW;
  for (let i = 0; i < minimum.length; i++) minimum[i] += (rest * hz[0]) / hz[i];
  const phase = new Float64Array(hz.length);
  const rawPhase = new Float64Array(hz.length);
  let turns = 0;
  for (let i = 0; i < hz.length; i++) {
    const at = 2 * (from + i);
    rawPhase[i] = Math.atan2(values[at + 1], values[at]) + 2 * Math.PI * hz[i] * arrivalS;
    const raw = rawPhase[i] - minimum[i];
    if (i > 0) turns -= Math.round((raw + turns * 2 * Math.PI - phase[i - 1]) / (2 * Math.PI));
    phase[i] = raw + turns * 2 * Math.PI;
  }
  return { hz, level, phase, rawPhase, aroundS: arrivalS };
}

/** Longest run in which the signal stands above the noise, a sixth of an octave at a time. */
function clearRange(snr: Float64Array): [from: number, to: number] {
  const half = POINTS_PER_OCTAVE / 12;
  const sums = new Float64Array(snr.length + 1);
  for (let i = 0; i < snr.length; i++) sums[i + 1] = sums[i] + Math.min(snr[i], 1e6);
  let [from, to] = [0, 0];
  for (let i = 0, start = 0; i < snr.length; i++) {
    const a = Math.max(0, i - half);
    const b = Math.min(snr.length, i + half + 1);
    if (!(sums[b] - sums[a] > LEAST_SNR * (b - a))) start = i + 1;
    else if (i + 1 - start > to - from) [from, to] = [start, i + 1];
  }
  return [from, to];
}

/** Below the range the level goes on as over its lowest octave, falling or level. */
function carriedDown(level: Float64Array, more: number): { long: Float64Array; slope: number } {
  const octave = Math.min(POINTS_PER_OCTAVE, level.length);
  const centre = (octave - 1) / 2;
  let moment = 0;
  for (let i = 0; i < octave; i++) moment += (i - centre) * level[i];
  const slope = (12 * moment) / (octave * (octave * octave - 1));
  const kept = Math.min(Math.max(slope, 0), STEEPEST * STEP);
  const out = new Float64Array(level.length + more);
  out.set(level, more);
  for (let k = 1; k <= more; k++) out[more - k] = level[0] - kept * k;
  return { long: out, slope: kept / STEP };
}
