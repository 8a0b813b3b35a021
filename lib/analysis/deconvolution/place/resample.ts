import { kaiser, kaiserBeta } from '../../../signal/windows';

/** Half-width of the interpolating sinc in samples, and how finely its table is kept. */
const HALF = 28;
const FINE = 512;
let latest: { cut: number; table: Float64Array } | undefined;

/**
 * Samples of a band-limited sound at another rate, by a windowed sinc.
 *
 * @param samples the sound. @param ratio old rate over new rate. @param length how many samples are wanted.
 * @param startAt where the first of them stands, in old samples.
 *
 * Notes: the sinc is 56 samples long under a Kaiser window and is cut at half of the lower rate, with a transition of
 * 0.12 of the old rate: within 1e-5 outside it. What the transition folds is not to be used. The sound counts as
 * silent outside its samples.
 */
export function resample(samples: Float64Array, ratio: number, length: number, startAt = 0): Float64Array {
  const table = tableFor(Math.min(1, 1 / ratio));
  const out = new Float64Array(length);
  for (let i = 0; i < length; i++) {
    const at = startAt + i * ratio;
    const base = Math.floor(at);
    const from = Math.max(0, base - HALF + 1);
    const to = Math.min(samples.length - 1, base + HALF);
    // place of sample `from` in the table, which runs from -HALF to HALF; then one sample is FINE rows
    const place = (HALF + at - from) * FINE;
    let row = Math.floor(place);
    const t = place - row;
    let sum = 0;
    for (let n = from; n <= to; n++, row -= FINE) sum += samples[n] * (table[row] + t * (table[row + 1] - table[row]));
    out[i] = sum;
  }
  return out;
}

function tableFor(cut: number): Float64Array {
  if (latest?.cut === cut) return latest.table;
  const window = kaiser(2 * HALF * FINE + 1, kaiserBeta(100));
  const table = new Float64Array(window.length + 1);
  window.forEach((gain, row) => {
    const x = Math.PI * cut * (row / FINE - HALF);
    table[row] = gain * cut * (x === 0 ? 1 : Math.sin(x) / x);
  });
  latest = { cut, table };
  return table;
}
