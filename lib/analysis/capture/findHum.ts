import { decimate } from '../../signal/decimate';
import { type HumLine, humLines } from './humLines';
import { isRinging } from './isRinging';
import { type MeanSpectrum, meanSpectrum } from './meanSpectrum';

/** A stretch of time, s. */
export type Stretch = [fromS: number, toS: number];

/** Highest multiple that is looked for is below this, Hz. */
const HIGHEST_HZ = 520;
/** Sample rate over band width here: spectra take longer than a long low-pass does. */
const RATE_TO_BAND = 2.8;
/** Less does not tell a line at 50 Hz from its surroundings. */
const SHORTEST_S = 0.4;
/** Mains drifts: longer stretches would smear the line. */
const LONGEST_S = 4;
/** So much is enough, and the same for most lines: their spectra are worked out once. */
const ENOUGH_S = 8;

/**
 * Find mains hum: lines at 50 or 60 Hz and their multiples that stand out of the noise.
 *
 * @param sound samples of one channel, full scale = 1. @param sampleRateHz Hz. @param quietAt where nothing but noise
 * lies near a frequency, in the order of time; all of the sound where left out.
 * @returns frequency (Hz) and level (dB re a full-scale sine) of each line, lowest first; none where less than 0.4 s is
 * quiet at its frequency.
 *
 * Notes: power spectrum of the longest quiet stretch under a Hann window, averaged over parts of up to 4 s that overlap
 * by half. A line counts where its peak stands 16 dB above the noise around it (13 dB where four or more parts were
 * averaged), within half a hertz of the mains frequency or as often that as its multiple; multiples must fit the mains
 * frequency the others show. A multiple that stands alone must fit mains within 0.3 Hz and be right within 1 Hz, so that
 * other tones are not called hum; what fades within the stretch is a room that rings. The power of the noise is taken off
 * the level, which is then good to about 1 dB (2 dB at the worst).
 *
 * Limits: two lines closer than 4 / duration Hz are one. A tone that happens to lie on a multiple is called hum.
 *
 * Reference: F. J. Harris, Proc. IEEE 66 (1978) 51-83 (the window); nominal frequencies: IEC 60038.
 *
 * @example
 * const silence = Float64Array.from({ length: 96000 }, (_, n) => 0.001 * Math.sin((2 * Math.PI * 50 * n) / 48000));
 * findHum(silence, 48000) // [{ frequencyHz: 50, levelDb: -60 }]
 */
export function findHum(
  sound: ArrayLike<number>,
  sampleRateHz: number,
  quietAt?: (hz: number) => Stretch[],
): HumLine[] {
  if (!(sound.length >= SHORTEST_S * sampleRateHz) || sampleRateHz < 150) return [];
  const whole = sound instanceof Float64Array ? sound : Float64Array.from(sound);
  const bandHz = Math.min(HIGHEST_HZ + 40, 0.45 * sampleRateHz);
  const factor = Math.max(1, Math.floor(sampleRateHz / (RATE_TO_BAND * bandHz)));
  const low = decimate(whole, sampleRateHz, { bandHz, factor });
  const known = new Map<string, MeanSpectrum>();
  const partOf = ([fromS, toS]: Stretch) =>
    withoutMean(low.samples.subarray(Math.ceil(fromS * low.sampleRateHz), Math.floor(toS * low.sampleRateHz)));
  const stretchAt = (hz: number): Stretch | undefined =>
    quietAt ? longest(quietAt(hz)) : [0, sound.length / sampleRateHz];
  const spectrumAt = (hz: number): MeanSpectrum | undefined => {
    const stretch = stretchAt(hz);
    if (!stretch) return undefined;
    const used = quietAt ? inHalves(stretch) : stretch;
    const key = used.map((s) => s.toFixed(3)).join();
    const spectrum = known.get(key) ?? meanSpectrum(partOf(used), low.sampleRateHz, LONGEST_S);
    known.set(key, spectrum);
    return spectrum;
  };
  const isRingingAt = (hz: number) => {
    const stretch = stretchAt(hz);
    return quietAt !== undefined && !!stretch && stretch[0] > 0 && isRinging(partOf(stretch), low.sampleRateHz, hz);
  };
  return humLines({ spectrumAt, isRingingAt }, Math.min(HIGHEST_HZ, bandHz - 40));
}

/** As much of the longest stretch as is needed, as far from the stimulus as can be. */
function longest(stretches: Stretch[]): Stretch | undefined {
  const [most] = stretches.filter(([from, to]) => to - from >= SHORTEST_S).sort(([a, b], [c, d]) => d - c - (b - a));
  if (!most) return undefined;
  const [from, to] = most;
  return from > 0 ? [Math.max(from, to - ENOUGH_S), to] : [from, Math.min(to, ENOUGH_S)];
}

/** What is longer than a part holds parts that overlap by half, and no rest: so neighbouring lines have spectra in common. */
function inHalves([from, to]: Stretch): Stretch {
  const half = LONGEST_S / 2;
  if (to - from < LONGEST_S) return [from, to];
  const kept = half * Math.floor((to - from) / half + 1e-9);
  return from > 0 ? [to - kept, to] : [from, from + kept];
}

function withoutMean(samples: Float64Array): Float64Array {
  let sum = 0;
  for (let n = 0; n < samples.length; n++) sum += samples[n];
  const mean = sum / samples.length;
  const out = new Float64Array(samples.length);
  for (let n = 0; n < samples.length; n++) out[n] = samples[n] - mean;
  return out;
}
