import { realFft } from '../../signal/fourier';
import { spectrumPowers } from '../../signal/spectrum';
import { hann } from '../../signal/windows';
import type { Samples } from './standingAt';

const LENGTH = 2048;
const BLOCKS = 96;
/** Above the sweep and what it leaves, Hz. */
const FROM_HZ = 4000;
/** Bins on either side that a bin is held against. */
const AROUND = 20;
/** A hole holds that share of what three quarters of its neighbours stay below. */
const DEEP = 0.01;
/**
 * More holes than that share of all bins are a coder's. Gaussian noise has 0.0127 of them under this window, whatever
 * its colour and level; tuned with the Vorbis coder of sox, which leaves 0.02 to 0.16 at qualities that move levels by
 * 0.4 dB and more.
 */
const MOST = 0.02;

/**
 * Whether the noise of a recording has holes, as a lossy coder leaves them where it saves bits: single bins, for a
 * moment, with next to nothing in them.
 *
 * @param samples one channel. @param toHz where the coder cut the sound off; holes are counted up to 500 Hz below.
 *
 * @example
 * hasCoderHoles(samples, 48000, 16000)
 */
export function hasCoderHoles(samples: Samples, sampleRateHz: number, toHz: number): boolean {
  if (samples.length < LENGTH) return false;
  const binHz = sampleRateHz / LENGTH;
  const [from, to] = [Math.round(FROM_HZ / binHz), Math.round((toHz - 500) / binHz)];
  const window = hann(LENGTH, 'periodic');
  const block = new Float64Array(LENGTH);
  let [holes, all] = [0, 0];
  for (let k = 0; k < BLOCKS; k++) {
    const start = Math.floor((k * (samples.length - LENGTH)) / (BLOCKS - 1));
    for (let n = 0; n < LENGTH; n++) block[n] = window[n] * samples[start + n];
    const powers = spectrumPowers(realFft(block, LENGTH));
    // every third: neighbours share what the window spreads
    for (let i = from + AROUND; i + AROUND < to; i += 3) {
      const near = powers.slice(i - AROUND, i + AROUND + 1).sort()[Math.round(1.5 * AROUND)];
      if (!(near > 0)) continue;
      all++;
      if (powers[i] < DEEP * near) holes++;
    }
  }
  return holes > MOST * all;
}
