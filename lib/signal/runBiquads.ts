import type { Biquad } from './biquad';

/**
 * Run samples through second-order filters, one after the other, from rest.
 *
 * @param samples the sound. @param chain filters from `biquad`, in order.
 * @returns as many samples.
 *
 * Notes: transposed direct form II in double precision; at 48 kHz a filter at 5 Hz keeps about ten exact digits.
 *
 * @example
 * runBiquads(samples, [biquad({ kind: 'high-pass', hz: 20 }, 48000)])
 */
export function runBiquads(samples: Float64Array, chain: Biquad[]): Float64Array {
  const out = samples.slice();
  for (const { b, a } of chain) {
    const [b0, b1, b2] = b;
    const [, a1, a2] = a;
    let [s1, s2] = [0, 0];
    for (let n = 0; n < out.length; n++) {
      const x = out[n];
      const y = b0 * x + s1;
      s1 = b1 * x - a1 * y + s2;
      s2 = b2 * x - a2 * y;
      out[n] = y;
    }
  }
  return out;
}

/**
 * Level and phase of second-order filters in a row at one frequency.
 *
 * @param chain filters from `biquad`. @param hz frequency. @param sampleRateHz the rate they were made for.
 * @returns level in dB; phase in degrees (exp(+jwt)), summed over the filters, each within +-180.
 *
 * Notes: powers of sin(w/2) in place of cosines, which would lose all digits at a few hertz.
 *
 * Reference: R. Bristow-Johnson, Audio EQ Cookbook, W3C Working Group Note (2021), on evaluating the response.
 *
 * @example
 * biquadResponse([biquad({ kind: 'high-pass', hz: 20 }, 48000)], 20, 48000) // { db: -3.01, deg: 90 }
 */
export function biquadResponse(chain: Biquad[], hz: number, sampleRateHz: number): { db: number; deg: number } {
  const half = (Math.PI * hz) / sampleRateHz;
  let [db, deg] = [0, 0];
  for (const { b, a } of chain) {
    const [top, bottom] = [polynomial(b, half), polynomial(a, half)];
    db += 20 * Math.log10(Math.hypot(...top) / Math.hypot(...bottom));
    const turn = (Math.atan2(top[1], top[0]) - Math.atan2(bottom[1], bottom[0])) / (2 * Math.PI);
    deg += 360 * (turn - Math.round(turn));
  }
  return { db, deg };
}

/** c0 + c1 / z + c2 / z^2, turned back by one sample (which cancels in the ratio): (c0 + c2) cos w + c1 + j (c0 - c2) sin w. */
function polynomial([c0, c1, c2]: [number, number, number], half: number): [re: number, im: number] {
  const sine = Math.sin(half);
  return [c0 + c1 + c2 - 2 * (c0 + c2) * sine * sine, (c0 - c2) * Math.sin(2 * half)];
}
