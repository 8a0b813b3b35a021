import { kaiser, kaiserBeta } from '../../signal/windows';

/** What is not kept comes down by so much; the pass band ripples by as little. */
const REJECTION_DB = 110;
/** Kernels tabulated between two samples; straight lines between them err by less than the rejection. */
const PHASES = 1024;

/**
 * Read a band-limited sound at other times: another sample rate, another clock, any delay.
 *
 * @param samples the sound, silent beyond its ends. @param rateHz its sample rate, Hz.
 * @param at.firstS time of the first new sample, s after the first old one. @param at.stepS time between two of them.
 * @param at.count number of new samples. @param passHz upper end of what is in the sound, below half its rate.
 * @returns the new samples.
 *
 * Notes: a sinc under a Kaiser window, its stop band where the images of the band begin. Meant for raising the rate:
 * nothing keeps what lies above half a lower new rate from folding.
 *
 * Reference: J. O. Smith, P. Gossett, A flexible sampling-rate conversion method, Proc. IEEE ICASSP (1984) 19.4.
 *
 * @example
 * resample(samples, 8000, { firstS: 0, stepS: 1 / 48000, count: 6 * samples.length }, 2400)
 */
export function resample(
  samples: Float64Array,
  rateHz: number,
  at: { firstS: number; stepS: number; count: number },
  passHz: number,
): Float64Array {
  const { rows, half } = kernelRows(rateHz, passHz);
  const taps = 2 * half;
  const out = new Float64Array(at.count);
  for (let n = 0; n < at.count; n++) {
    const place = (at.firstS + n * at.stepS) * rateHz;
    const whole = Math.floor(place);
    const phase = (place - whole) * PHASES;
    const row = Math.floor(phase);
    const part = phase - row;
    const first = whole - half + 1;
    let [sum, next] = [0, 0];
    const from = Math.max(0, -first);
    const to = Math.min(taps, samples.length - first);
    for (let m = from, a = row * taps + from; m < to; m++, a++) {
      const value = samples[first + m];
      sum += rows[a] * value;
      next += rows[a + taps] * value;
    }
    out[n] = sum + part * (next - sum);
  }
  return out;
}

/** Row by row, the weights of the samples around a place between two of them. */
function kernelRows(rateHz: number, passHz: number): { rows: Float64Array; half: number } {
  const width = (2 * Math.PI * (rateHz - 2 * passHz)) / rateHz;
  const half = Math.ceil((REJECTION_DB - 7.95) / (2.285 * width) / 2) + 1;
  const window = kaiser(2 * half * PHASES + 1, kaiserBeta(REJECTION_DB));
  const rows = new Float64Array((PHASES + 1) * 2 * half);
  for (let row = 0; row <= PHASES; row++) {
    for (let m = 0; m < 2 * half; m++) {
      // distance from the place to sample m, in kernel steps
      const steps = row + (half - 1 - m) * PHASES;
      const x = (Math.PI * steps) / PHASES;
      rows[row * 2 * half + m] = window[steps + half * PHASES] * (steps === 0 ? 1 : Math.sin(x) / x);
    }
  }
  return { rows, half };
}
