import type { LogSamples } from '../fitting/logSamples';
import type { ChosenHighPass } from './chooseHighPass';
import { layoutOf } from './highPassShape';

/** dB per octave of each order of a high-pass, 20 lg 2. */
const PER_ORDER = 20 * Math.log10(2);

/**
 * Slope of a roll-off towards 0 Hz, dB per octave: that of the fitted high-pass, plus the slope by which the curve
 * departs from the fit over its lowest octave (below the corner), where that is more than twice its uncertainty.
 */
export function asymptoticSlope(samples: LogSamples, { shape, fit, sigma }: ChosenHighPass, f0Hz: number): number {
  const fitted = PER_ORDER * shape.order + (shape.tilt ? fit.parameters[layoutOf(shape).slope] : 0);
  const highest = Math.min(2 * samples.hz[0], f0Hz);
  let [n, sx, sy, sxx, sxy] = [0, 0, 0, 0, 0];
  let count = 0;
  for (let i = 0; samples.hz[i] <= highest; i++) {
    const x = Math.log2(samples.hz[i]);
    const weight = fit.trust[i] / sigma[i] ** 2;
    n += weight;
    sx += weight * x;
    sy += weight * fit.residuals[i];
    sxx += weight * x * x;
    sxy += weight * x * fit.residuals[i];
    count++;
  }
  const spread = sxx - (sx * sx) / n;
  if (count < 4 || highest < 1.3 * samples.hz[0] || !(spread > 0)) return fitted;
  const slope = (sxy - (sx * sy) / n) / spread;
  const uncertainty = Math.max(1, fit.scale) / Math.sqrt(spread);
  return Math.abs(slope) > 2 * uncertainty ? fitted + slope : fitted;
}
