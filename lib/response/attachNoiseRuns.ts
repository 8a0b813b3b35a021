import type { Curve, Measurement } from '../model/curve';
import { attachNoise } from './attachNoise';
import { averageCurves } from './averageCurves';
import { isCorrected } from './isCorrected';

/**
 * Give every response of a session the noise of the session's noise runs.
 *
 * A response takes the noise runs of its own unit; where there are none, those that name no unit. Of several, those on
 * its scale and corrected like it are power-averaged. A response that brought its noise along keeps it.
 *
 * @param measurements responses, noise runs and whatever else, in any order.
 * @param onUnlike told of each response that no noise run is like, which then goes without.
 * @returns the same in the same order, the responses with noise as new curves.
 * @throws BassloomError `mixed-curves` where all noise runs are on another scale, or corrected otherwise, than a response,
 * and nobody is to be told.
 *
 * @example
 * const silence = makeCurve({ frequencyHz: [10, 40], levelDb: [40, 30], role: 'noise' });
 * attachNoiseRuns([makeCurve({ frequencyHz: [10, 40], levelDb: [80, 90] }), silence])
 */
export function attachNoiseRuns(measurements: Measurement[], onUnlike?: (response: Curve) => void): Measurement[] {
  const runs = measurements.filter((one): one is Curve => one.kind === 'curve' && one.role === 'noise');
  const means = new Map<string, Curve | undefined>();
  const noiseOf = (device: string | undefined, response: Curve): Curve | undefined => {
    const key = JSON.stringify([device, kindOf(response)]);
    if (!means.has(key)) {
      const own = runs.filter(({ about }) => about.device === device);
      const alike = own.filter((run) => kindOf(run) === kindOf(response));
      means.set(key, alike.length > 1 ? averageCurves(alike) : (alike[0] ?? own[0]));
    }
    return means.get(key);
  };
  return measurements.map((one) => {
    if (one.kind !== 'curve' || one.role !== 'response' || one.noiseDb) return one;
    const noise = noiseOf(one.about.device, one) ?? noiseOf(undefined, one);
    if (!noise) return one;
    if (!onUnlike || kindOf(noise) === kindOf(one)) return attachNoise(one, noise);
    onUnlike(one);
    return one;
  });
}

/** What a response and its noise must have in common. */
function kindOf(curve: Curve): string {
  return `${curve.scale} ${isCorrected(curve)}`;
}
