import type { Interval } from './curve';

/** Octave frequency ratio of the base-10 system, G = 10^(3/10) (IEC 61260-1:2014, 5.2). */
export const OCTAVE_RATIO = 10 ** 0.3;

/** Band of 1/`fraction` octave around `centreHz`: f G^(-1/2n) .. f G^(+1/2n) (IEC 61260-1:2014, 5.5). */
export function bandAround(centreHz: number, fraction: number): Interval {
  const half = OCTAVE_RATIO ** (1 / (2 * fraction));
  return [centreHz / half, centreHz * half];
}

/**
 * Exact base-10 third-octave mid-band frequencies whose whole band lies inside a range,
 * 1000 Hz * G^(x/3) (IEC 61260-1:2014, 5.4); G^(1/3) is 10^(1/10).
 *
 * @example
 * thirdOctaveCentres(17, 29) // [19.95..., 25.12...]
 */
export function thirdOctaveCentres(lowHz: number, highHz: number): number[] {
  const centres: number[] = [];
  if (!(lowHz > 0) || !(highHz > lowHz)) return centres;
  const slack = 1e-9; // a range that ends on a band edge holds that band, whatever the last bit says
  for (let x = Math.ceil(10 * Math.log10(lowHz)); ; x++) {
    const centre = 10 ** (x / 10);
    const [low, high] = bandAround(centre, 3);
    if (high > highHz * (1 + slack)) return centres;
    if (low >= lowHz * (1 - slack)) centres.push(centre);
  }
}

/**
 * Exact base-10 third-octave centre nearest to a frequency (IEC 61260-1:2014, 5.4).
 *
 * @example
 * nearestCentre(31.5) // 31.62...
 */
export function nearestCentre(hz: number): number {
  return 10 ** (Math.round(10 * Math.log10(hz)) / 10);
}

/** Nominal name of a base-10 third-octave centre, as printed on instruments (IEC 61260-1:2014, annex E): 31.6 -> 31.5. */
export function nominalHz(centreHz: number): number {
  const decade = 10 ** Math.floor(Math.log10(centreHz) + 1e-6);
  const nominal = [1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8, 10];
  const within = centreHz / decade;
  const nearest = nominal.reduce((a, b) => (Math.abs(Math.log(b / within)) < Math.abs(Math.log(a / within)) ? b : a));
  return Number((nearest * decade).toPrecision(3));
}
