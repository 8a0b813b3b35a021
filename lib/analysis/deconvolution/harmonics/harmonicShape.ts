import { inverseRealFft, realFft } from '../../../signal/fourier';
import { halfHann } from '../../../signal/windows';
import { readBins } from '../divide/readBins';
import { type Reference, sweepTime } from '../place/reference';
import { stretchSpectrum, type TimeWindow } from '../window/timeWindow';

/** Nothing is made above that share of the sample rate, and it fades towards it. */
const HIGHEST = 0.47;
const FADES_FROM = 0.42;
const kept = new WeakMap<Reference, Map<string, number[]>>();

/**
 * What the closed inverse and a window make of an ideal harmonic of a sweep: 1 far inside its range, less at its ends,
 * where the sweep fades and its finite length ripples.
 *
 * @param reference the sweep. @param order of the harmonic. @param window round its place. @param hz of the harmonic.
 * @returns magnitudes, worked out once for captures of one kind.
 *
 * Notes: the harmonic is taken to grow as the order's power of the sweep's own fade.
 */
export function harmonicShape(reference: Reference, order: number, window: TimeWindow, hz: number[]): number[] {
  const known = kept.get(reference) ?? new Map<string, number[]>();
  kept.set(reference, known);
  const key = [order, window.before, window.after, hz.length, hz[0], hz[hz.length - 1]].join(' ');
  const old = known.get(key);
  if (old) return old;
  const { grid, law } = reference;
  const spectrum = realFft(harmonicOf(reference, order), grid.length);
  const inverse = reference.inverse();
  const flat = new Float64Array(spectrum.length);
  for (let i = 0; i < flat.length; i += 2) {
    flat[i] = spectrum[i] * inverse[i] - spectrum[i + 1] * inverse[i + 1];
    flat[i + 1] = spectrum[i] * inverse[i + 1] + spectrum[i + 1] * inverse[i];
  }
  const lead = law!.rateSeconds * Math.log(order);
  const stretch = stretchSpectrum(inverseRealFft(flat), grid.rateHz, -lead, window);
  const values = readBins(stretch.bins, stretch.binHz, 0.1 * window.after, hz);
  const shape = hz.map((_, m) => Math.hypot(values[2 * m], values[2 * m + 1]));
  known.set(key, shape);
  return shape;
}

/** a sin(n phase) under the n-th power of the fades, at the grid's rate. */
function harmonicOf({ law, grid, stimulus }: Reference, order: number): Float64Array {
  const { startHz, endHz, rateSeconds, startS, amplitude } = law!;
  const { rateHz } = grid;
  const samples = new Float64Array(Math.min(grid.length, Math.ceil(stimulus.seconds * rateHz)));
  const plan = stimulus.plan!;
  const fadeInS = plan.fadeInSamples / plan.sampleRateHz;
  const fadeOutS = plan.fadeOutSamples / plan.sampleRateHz;
  const endS = sweepTime(law!, endHz);
  const rise = halfHann(1024);
  const gainAt = (s: number, over: number) => (s >= over ? 1 : rise[Math.max(0, Math.floor((s / over) * 1024))]);
  const turns = 2 * Math.PI * startHz * rateSeconds;
  for (let n = Math.max(0, Math.ceil(startS * rateHz)); n < samples.length; n++) {
    const t = n / rateHz - startS;
    const share = (order * startHz * Math.exp(t / rateSeconds)) / rateHz;
    if (share > HIGHEST || t + startS > endS) break;
    const edge =
      share > FADES_FROM ? 0.5 + 0.5 * Math.cos((Math.PI * (share - FADES_FROM)) / (HIGHEST - FADES_FROM)) : 1;
    const gain = gainAt(t, fadeInS) * gainAt(endS - startS - t, fadeOutS);
    samples[n] = edge * amplitude * gain ** order * Math.sin(order * turns * Math.expm1(t / rateSeconds));
  }
  return samples;
}
