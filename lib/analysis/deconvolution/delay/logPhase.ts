/**
 * Phase that goes with a level, the least that a causal system of that level can have.
 *
 * @param level nepers, on equal steps of log frequency; constant outside them.
 * @param step of log frequency, nepers. @param from first point that is wanted.
 * @returns radians (exp(+jwt)) from that point on.
 *
 * Notes: the integral of the level's slope over log frequency, weighed by ln coth(|u| / 2), as exact means over steps.
 * On a logarithmic grid it costs a fraction of the Hilbert transform on a linear one that reaches as low.
 *
 * Reference: H. W. Bode, Network Analysis and Feedback Amplifier Design (1945), ch. 14 (from memory).
 */
export function minimumPhaseOf(level: Float64Array, step: number, from = 0): Float64Array {
  const kernel = kernelFor(step, level.length);
  const steps = level.length - 1;
  const rise = new Float64Array(steps);
  for (let j = 0; j < steps; j++) rise[j] = (level[j + 1] - level[j]) / Math.PI;
  const phase = new Float64Array(level.length - from);
  for (let i = from; i < level.length; i++) {
    // the step from j to j + 1 lies j - i steps above, or i - j - 1 below; as far as both go, in two sums at once
    const both = Math.min(i, steps - i);
    let below = 0;
    let above = 0;
    for (let d = 0; d < both; d++) {
      below += rise[i - 1 - d] * kernel[d];
      above += rise[i + d] * kernel[d];
    }
    for (let d = both; d < i; d++) below += rise[i - 1 - d] * kernel[d];
    for (let d = both; d < steps - i; d++) above += rise[i + d] * kernel[d];
    phase[i - from] = below + above;
  }
  return phase;
}

/**
 * What a level that changes only above a range adds to the phase inside it, as sums ready to be weighed.
 *
 * @param step of log frequency. @param count points of the range, the last is its end. @param every how many of them
 * are worked out: 0, every, 2 every ... @param wide steps that are taken as one above the range. @param wides how many.
 * @returns for each of these points, radians for one neper of rise over each wide step.
 */
export function phasesFromAbove(
  step: number,
  count: number,
  every: number,
  wide: number,
  wides: number,
): Float64Array[] {
  const kernel = kernelFor(step, wide * wides + count);
  return Array.from({ length: Math.ceil(count / every) }, (_, m) => {
    const below = count - 1 - m * every;
    return Float64Array.from({ length: wides }, (_, k) => {
      let sum = 0;
      for (let j = 0; j < wide; j++) sum += kernel[below + k * wide + j];
      return sum / (wide * Math.PI);
    });
  });
}

const kernels = new Map<number, Float64Array>();

/** Means of ln coth(u / 2) over the steps from k to k + 1. */
function kernelFor(step: number, length: number): Float64Array {
  const known = kernels.get(step);
  if (known && known.length >= length) return known;
  const weigh = (u: number) => -Math.log(Math.tanh(u / 2));
  const off = step / Math.sqrt(12); // Gauss's rule of two points
  const kernel = Float64Array.from({ length: Math.max(length, 2048) }, (_, k) => {
    const middle = (k + 0.5) * step;
    return k === 0 ? 1 - Math.log(step / 2) : (weigh(middle - off) + weigh(middle + off)) / 2;
  });
  kernels.set(step, kernel);
  return kernel;
}
