/** How much of a tone of a burst's length begins at each moment. */
export interface Presence {
  /** Squared magnitude, one for each hop; 1 for a burst of amplitude 1 that begins there. */
  power: Float64Array;
  /** Mean power of the noise in it. */
  noise: number;
  hopS: number;
}

/**
 * Look for a tone under a Hann window that begins at each of many moments.
 *
 * @param samples a sound. @param rate its sample rate, Hz. @param hz frequency of the tone. @param seconds length of
 * the window. @param hop samples from moment to moment.
 *
 * Notes: a Hann window is three boxcars at neighbouring frequencies, and sums over a boxcar are differences of running
 * sums, so the cost does not grow with the length. The noise is told from the quietest quarter of all moments, which
 * a schedule with any silence leaves free of the tone.
 */
export function tonePresence(samples: Float64Array, rate: number, hz: number, seconds: number, hop: number): Presence {
  const hops = Math.floor(samples.length / hop);
  const width = Math.max(2, Math.round((seconds * rate) / hop));
  const spacing = rate / (width * hop);
  const [middle, below, above] = [0, -1, 1].map((k) => runningSums(samples, rate, hz + k * spacing, hop, hops));
  const area = (3 / 16) * width * hop; // of a sine under the square of a Hann window
  const power = new Float64Array(Math.max(0, hops - width + 1));
  for (let k = 0; k < power.length; k++) {
    const a = 2 * k;
    const b = 2 * (k + width);
    // boxcars at both neighbours turn against the middle one by a full turn in each window
    const turn = (2 * Math.PI * k) / width;
    const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
    const [loRe, loIm] = [below[b] - below[a], below[b + 1] - below[a + 1]];
    const [hiRe, hiIm] = [above[b] - above[a], above[b + 1] - above[a + 1]];
    const re = 0.5 * (middle[b] - middle[a]) - 0.25 * (loRe * cos + loIm * sin + hiRe * cos - hiIm * sin);
    const im = 0.5 * (middle[b + 1] - middle[a + 1]) - 0.25 * (loIm * cos - loRe * sin + hiIm * cos + hiRe * sin);
    power[k] = (re * re + im * im) / (area * area);
  }
  return { power, noise: noiseOf(power), hopS: hop / rate };
}

/** Sums of x exp(-jwn) up to every hop, real and imaginary parts in turn. */
function runningSums(samples: Float64Array, rate: number, hz: number, hop: number, hops: number): Float64Array {
  const sums = new Float64Array(2 * (hops + 1));
  const turn = (-2 * Math.PI * hz) / rate;
  const [stepRe, stepIm] = [Math.cos(turn), Math.sin(turn)];
  let [sumRe, sumIm] = [0, 0];
  for (let k = 0; k < hops; k++) {
    let re = Math.cos(turn * k * hop);
    let im = Math.sin(turn * k * hop);
    for (let n = k * hop; n < (k + 1) * hop; n++) {
      sumRe += samples[n] * re;
      sumIm += samples[n] * im;
      const next = re * stepRe - im * stepIm;
      im = re * stepIm + im * stepRe;
      re = next;
    }
    sums[2 * k + 2] = sumRe;
    sums[2 * k + 3] = sumIm;
  }
  return sums;
}

function noiseOf(power: Float64Array): number {
  if (power.length === 0) return 0;
  const sorted = power.slice().sort();
  // powers of noise are spread exponentially: a quarter of them lie below -ln(3/4) of their mean
  const mean = sorted[Math.floor(sorted.length / 4)] / Math.log(4 / 3);
  return Math.max(mean, sorted[sorted.length - 1] * 1e-10);
}
