import { realFft } from '../../signal/fourier';
import { spectrumPowers } from '../../signal/spectrum';
import { hann } from '../../signal/windows';
import { median } from '../fitting/median';

/** What shows that a gain follows the level. */
export interface GainChange {
  /** How much lower the noise is after the sweep than before it, dB. */
  dropDb: number;
  /** By how much it comes back until the recording ends, dB. */
  riseDb: number;
}

/** Noise is read in blocks that long, s. */
const BLOCK_S = 0.05;
/** Blocks of which the median is taken: what clicks does not count. */
const TOGETHER = 3;
/** What the stimulus leaves, and how exactly its ends are known, s. */
const GUARD_S = 0.1;
/** The noise before must be seen for that many blocks, and after for twice as many as are taken together. */
const FEWEST_BEFORE = 5;
/** What still rings may hide the lowest noise for that many blocks. */
const LATEST_LOWEST = 12;
/** The rise takes at least that many. */
const FEWEST_RISING = 5;
/** Noise that has come so near to that before is back, and stays within twice as much, dB. */
const BACK_DB = 1.5;
/** The band must be that wide, Hz. */
const LEAST_WIDTH_HZ = 80;
/**
 * Least drop and rise, dB, and how straight the rise is: correlation with time. Tuned on simulated noise that wanders
 * within 0.3 to 5 s: by 1 dB (standard deviation) none of 1200 passes, by 2 dB 4, by 3 dB 21.
 */
const LEAST = { dropDb: 6, riseDb: 4, correlation: 0.85 };

/**
 * Find automatic gain: noise that is lower after a sweep than before it, and comes back as the gain recovers.
 *
 * @param samples a capture. @param rateHz its rate, Hz. @param bandHz a band that the stimulus leaves alone.
 * @param fromS when the stimulus begins. @param toS when it ends.
 * @returns undefined where nothing shows it. Gain that recovers within some tenths of a second or only after the
 * recording, and gain that acts before the noise comes in, cannot be seen.
 *
 * @example
 * findGainChange(samples, 4000, [600, 1600], 1, 21) // { dropDb: 14.2, riseDb: 9.5 }
 */
export function findGainChange(
  samples: Float64Array,
  rateHz: number,
  bandHz: [number, number],
  fromS: number,
  toS: number,
): GainChange | undefined {
  if (bandHz[1] - bandHz[0] < LEAST_WIDTH_HZ) return undefined;
  const levels = (from: number, to: number) => blockLevels(samples, rateHz, bandHz, from, to);
  const before = levels(0, fromS - GUARD_S);
  const after = levels(toS + GUARD_S, samples.length / rateHz);
  if (before.length < FEWEST_BEFORE || after.length < 2 * TOGETHER) return undefined;
  const smooth = after.slice(TOGETHER - 1).map((_, i) => median(after.slice(i, i + TOGETHER)));
  const lowest = smooth.indexOf(Math.min(...smooth));
  const beforeDb = median(before);
  const back = smooth.findIndex((db, i) => i > lowest && db > beforeDb - BACK_DB);
  const rising = smooth.slice(lowest, back < 0 ? undefined : back + 1);
  const [dropDb, riseDb] = [beforeDb - smooth[lowest], rising[rising.length - 1] - smooth[lowest]];
  const isFound =
    dropDb >= LEAST.dropDb &&
    riseDb >= LEAST.riseDb &&
    lowest <= LATEST_LOWEST &&
    rising.length >= FEWEST_RISING &&
    correlation(rising) >= LEAST.correlation &&
    (back < 0 || smooth.slice(back).every((db) => Math.abs(db - beforeDb) < 2 * BACK_DB));
  return isFound ? { dropDb, riseDb } : undefined;
}

function blockLevels(samples: Float64Array, rateHz: number, bandHz: [number, number], from: number, to: number) {
  const length = Math.round(BLOCK_S * rateHz);
  const window = hann(length, 'periodic');
  const size = 2 ** Math.ceil(Math.log2(length));
  const [low, high] = bandHz.map((hz) => Math.round((hz / rateHz) * size));
  const levels: number[] = [];
  for (let start = Math.ceil(from * rateHz); start + length <= to * rateHz; start += length) {
    const powers = spectrumPowers(
      realFft(
        window.map((w, n) => w * samples[start + n]),
        size,
      ),
    );
    let sum = 0;
    for (let k = low; k <= high; k++) sum += powers[k];
    levels.push(10 * Math.log10(Math.max(sum, 1e-30)));
  }
  return levels;
}

/** Of values with their order. */
function correlation(values: number[]): number {
  const mean = values.reduce((sum, x) => sum + x, 0) / values.length;
  let [xy, xx, yy] = [0, 0, 0];
  values.forEach((value, i) => {
    const x = i - (values.length - 1) / 2;
    xy += x * (value - mean);
    xx += x * x;
    yy += (value - mean) ** 2;
  });
  return xy / Math.sqrt(xx * yy);
}
