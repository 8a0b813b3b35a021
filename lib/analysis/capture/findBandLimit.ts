import { realFft } from '../../signal/fourier';
import { hann } from '../../signal/windows';
import type { Samples } from './standingAt';

/** Bins of 23 Hz at 48 kHz. */
const LENGTH = 2048;
const BLOCKS = 48;
/** Where coders cut off, Hz; up to that share of the sample rate, where converters begin to. */
const FROM_HZ = 13_500;
const MOST_OF_RATE = 0.42;
/** What is compared lies so far from the edge, Hz. */
const SIDE_HZ = [300, 1300];
/** How much less there is above the edge, dB. */
const DROP_DB = 15;
/** Less than that in a kilohertz below the edge is no recorder's noise but rounding, dB re a full-scale sine. */
const LEAST_DBFS = -125;

/**
 * Find the frequency above which a recording holds nothing, as lossy coders leave it.
 *
 * @param samples one channel. @returns Hz; null where the noise goes on, or the sample rate is too low to tell.
 *
 * Notes: mean powers of 48 blocks all over the recording. A recorder's own noise falls off smoothly.
 *
 * @example
 * findBandLimit(samples, 48000) // 16000
 */
export function findBandLimit(samples: Samples, sampleRateHz: number): number | null {
  const topHz = MOST_OF_RATE * sampleRateHz;
  if (topHz < FROM_HZ + SIDE_HZ[1] || samples.length < LENGTH) return null;
  const sums = new Float64Array(LENGTH / 2 + 2);
  const window = hann(LENGTH, 'periodic');
  const block = new Float64Array(LENGTH);
  const bins = new Float64Array(LENGTH + 2);
  for (let k = 0; k < BLOCKS; k++) {
    const start = Math.floor((k * (samples.length - LENGTH)) / (BLOCKS - 1));
    for (let n = 0; n < LENGTH; n++) block[n] = window[n] * samples[start + n];
    realFft(block, LENGTH, bins);
    for (let i = 0; 2 * i < bins.length; i++) sums[i + 1] += bins[2 * i] ** 2 + bins[2 * i + 1] ** 2;
  }
  for (let i = 1; i < sums.length; i++) sums[i] += sums[i - 1];
  const binHz = sampleRateHz / LENGTH;
  const mean = (low: number, high: number) => {
    const [a, b] = [Math.round(low / binHz), Math.round(high / binHz)];
    return (sums[b] - sums[a]) / (b - a);
  };
  // mean power of a bin to that of 1 kHz re a full-scale sine, under this window
  const scale = ((1000 / binHz) * 4) / (0.375 * LENGTH ** 2 * BLOCKS);
  const drops: { hz: number; db: number }[] = [];
  for (let hz = FROM_HZ; hz + SIDE_HZ[1] <= sampleRateHz / 2 - 100 && hz <= topHz; hz += 100) {
    const [near, far] = SIDE_HZ;
    if (scale * mean(hz - far, hz - near) < 10 ** (LEAST_DBFS / 10)) continue;
    const db = 10 * Math.log10(mean(hz - far, hz - near) / Math.max(mean(hz + near, hz + far), 1e-300));
    drops.push({ hz, db });
  }
  const deepest = drops.reduce((most, { db }) => Math.max(most, db), 0);
  // as long as some of what is below the edge lies on the near side, the drop stays deep
  return deepest >= DROP_DB ? drops.find(({ db }) => db > deepest - 6)!.hz : null;
}
