import type { Curve, Measurement } from '../model/curve';
import { attachNoise } from './attachNoise';
import { averageCurves } from './averageCurves';

/**
 * Give every response of a session the noise of the session's noise runs.
 *
 * A response takes the noise runs of its own unit; where there are none, those that name no unit. Several are
 * power-averaged. A response that brought its noise along keeps it.
 *
 * @param measurements responses, noise runs and whatever else, in any order.
 * @returns the same in the same order, the responses with noise as new curves.
 * @throws BassloomError `mixed-curves` where a noise run is on another scale, or corrected otherwise, than a response.
 *
 * @example
 * const silence = makeCurve({ frequencyHz: [10, 40], levelDb: [40, 30], role: 'noise' });
 * attachNoiseRuns([makeCurve({ frequencyHz: [10, 40], levelDb: [80, 90] }), silence])
 */
export function attachNoiseRuns(measurements: Measurement[]): Measurement[] {
  const runs = measurements.filter((one): one is Curve => one.kind === 'curve' && one.role === 'noise');
  const means = new Map<string | undefined, Curve | undefined>();
  const noiseOf = (device: string | undefined): Curve | undefined => {
    if (!means.has(device)) {
      const own = runs.filter(({ about }) => about.device === device);
      means.set(device, own.length > 1 ? averageCurves(own) : own[0]);
    }
    return means.get(device);
  };
  return measurements.map((one) => {
    if (one.kind !== 'curve' || one.role !== 'response' || one.noiseDb) return one;
    const noise = noiseOf(one.about.device) ?? noiseOf(undefined);
    return noise ? attachNoise(one, noise) : one;
  });
}
