import type { Curve } from '../model/curve';
import { interpolate } from '../model/interpolate';
import { deriveCurve } from '../model/makeCurve';
import { makeRefusal } from '../words/makeRefusal';
import { sharedMarks } from './captureWarnings';
import { isCorrected } from './isCorrected';
import { steadyNoise } from './steadyNoise';

/**
 * Give a curve the noise level of a run made in silence.
 *
 * @param curve a response. @param noiseRun the same measurement with nothing played, on the same scale, made and
 * analysed in the same way (same length, same averaging): only then is the noise in its bins the noise in the curve's.
 * @returns a new curve with `noiseDb`: the noise run made steady (see `steadyNoise`) and read on straight lines over
 * log frequency. Beyond the noise run its end values are held, and the step names its range as `knownHz`.
 * @throws BassloomError `mixed-curves` where scale or microphone correction differ, and of a harmonic: its levels are
 * ratios, a noise run's are not.
 *
 * @example
 * const silence = makeCurve({ frequencyHz: [10, 20, 40], levelDb: [40, 35, 30], role: 'noise' });
 * attachNoise(makeCurve({ frequencyHz: [15, 30], levelDb: [80, 90] }), silence).noiseDb
 */
export function attachNoise(curve: Curve, noiseRun: Curve): Curve {
  const differs =
    (curve.role === 'harmonic' && 'role') ||
    (curve.scale !== noiseRun.scale && 'scale') ||
    (isCorrected(curve) !== isCorrected(noiseRun) && 'microphone correction');
  if (differs) {
    const values = { a: curve.label, b: noiseRun.label, differ: differs, to: 'attach noise' } as const;
    throw makeRefusal('mixed-curves', values, { field: differs });
  }
  const { frequencyHz: f } = noiseRun;
  const [first, last] = [f[0], f[f.length - 1]];
  const held = curve.frequencyHz[0] < first || curve.frequencyHz[curve.frequencyHz.length - 1] > last;
  return deriveCurve(
    curve,
    { noiseDb: interpolate(f, steadyNoise(noiseRun), curve.frequencyHz) },
    {
      did: 'attach noise',
      with: {
        noise: noiseRun.label,
        id: noiseRun.id,
        ...(held && { knownHz: [first, last] }),
        ...sharedMarks([noiseRun]),
      },
    },
  );
}
