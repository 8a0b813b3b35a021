import { makeRefusal } from '../words/makeRefusal';

export type BiquadKind =
  | 'low-pass'
  | 'high-pass'
  | 'band-pass'
  | 'notch'
  | 'all-pass'
  | 'peaking'
  | 'low-shelf'
  | 'high-shelf';

/** A second-order filter wanted. */
export interface BiquadSpec {
  kind: BiquadKind;
  /** Corner or centre, Hz. */
  hz: number;
  /** Quality; the square root of 1/2 (Butterworth) where left out. */
  q?: number;
  /** Gain of a peak or shelf, dB; 0 where left out. */
  gainDb?: number;
}

/** y[n] = b0 x[n] + b1 x[n-1] + b2 x[n-2] - a1 y[n-1] - a2 y[n-2]. */
export interface Biquad {
  b: [number, number, number];
  a: [1, number, number];
}

/**
 * Coefficients of a second-order digital filter, made from its analogue model by the bilinear transform, exact at `hz`.
 *
 * @param spec kind, frequency (Hz), quality and gain (dB). @param sampleRateHz sample rate, Hz.
 * @returns coefficients with a0 = 1.
 * @throws BassloomError `biquad-frequency`, `biquad-quality`, `biquad-gain`, `biquad-kind`.
 *
 * Notes: the band-pass has a peak of 0 dB; the quality of a peak is that of the note, whose bandwidth lies between the
 * points of half the gain in dB; shelves take the quality as such, not a slope.
 *
 * Reference: R. Bristow-Johnson, Audio EQ Cookbook, W3C Working Group Note (2021).
 *
 * @example
 * biquad({ kind: 'peaking', hz: 40, q: 4, gainDb: -6 }, 48000)
 */
export function biquad(spec: BiquadSpec, sampleRateHz: number): Biquad {
  check(spec, sampleRateHz);
  const { kind, hz, q = Math.SQRT1_2, gainDb = 0 } = spec;
  const turn = (2 * Math.PI * hz) / sampleRateHz;
  const [b, a] = shape(kind, Math.cos(turn), Math.sin(turn) / (2 * q), 10 ** (gainDb / 40));
  return { b: [b[0] / a[0], b[1] / a[0], b[2] / a[0]], a: [1, a[1] / a[0], a[2] / a[0]] };
}

type Three = [number, number, number];

function shape(kind: BiquadKind, cos: number, alpha: number, gain: number): [b: Three, a: Three] {
  const poles: Three = [1 + alpha, -2 * cos, 1 - alpha];
  switch (kind) {
    case 'low-pass':
      return [[(1 - cos) / 2, 1 - cos, (1 - cos) / 2], poles];
    case 'high-pass':
      return [[(1 + cos) / 2, -(1 + cos), (1 + cos) / 2], poles];
    case 'band-pass':
      return [[alpha, 0, -alpha], poles];
    case 'notch':
      return [[1, -2 * cos, 1], poles];
    case 'all-pass':
      return [[1 - alpha, -2 * cos, 1 + alpha], poles];
    case 'peaking':
      return [
        [1 + alpha * gain, -2 * cos, 1 - alpha * gain],
        [1 + alpha / gain, -2 * cos, 1 - alpha / gain],
      ];
    case 'low-shelf':
      return shelf(cos, alpha, gain);
    case 'high-shelf': {
      // the low shelf mirrored about half the Nyquist frequency: z becomes -z
      const [b, a] = shelf(-cos, alpha, gain);
      return [
        [b[0], -b[1], b[2]],
        [a[0], -a[1], a[2]],
      ];
    }
    default:
      throw makeRefusal('biquad-kind', { kind }, { field: 'kind' });
  }
}

function shelf(cos: number, alpha: number, gain: number): [b: Three, a: Three] {
  const width = 2 * Math.sqrt(gain) * alpha;
  const [up, down] = [gain + 1, gain - 1];
  return [
    [gain * (up - down * cos + width), 2 * gain * (down - up * cos), gain * (up - down * cos - width)],
    [up + down * cos + width, -2 * (down + up * cos), up + down * cos - width],
  ];
}

function check({ hz, q = 1, gainDb = 0 }: BiquadSpec, sampleRateHz: number): void {
  if (!(hz > 0 && hz < sampleRateHz / 2)) {
    throw makeRefusal('biquad-frequency', { hz, rateHz: sampleRateHz }, { field: 'hz' });
  }
  if (!(q > 0 && Number.isFinite(q))) {
    throw makeRefusal('biquad-quality', { q }, { field: 'q' });
  }
  if (!Number.isFinite(gainDb)) {
    throw makeRefusal('biquad-gain', { gainDb }, { field: 'gainDb' });
  }
}
