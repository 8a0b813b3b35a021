import { decimate } from '../../signal/decimate';
import { type HumLine, humLines } from './humLines';
import { meanSpectrum } from './meanSpectrum';

/** Highest multiple that is looked for is below this, Hz. */
const HIGHEST_HZ = 520;
/** Less does not tell a line at 50 Hz from its surroundings. */
const SHORTEST_S = 0.4;
/** Mains drifts: longer stretches would smear the line. */
const LONGEST_S = 4;

/**
 * Find mains hum in a stretch of silence: lines at 50 or 60 Hz and their multiples that stand out of the noise.
 *
 * @param silence samples of one channel without signal, full scale = 1. @param sampleRateHz Hz.
 * @returns frequency (Hz) and level (dB re a full-scale sine) of each line, lowest first; none where the silence is
 * shorter than 0.4 s.
 *
 * Notes: power spectrum under a Hann window, averaged over stretches of up to 4 s that overlap by half. A line counts
 * where its peak stands 16 dB above the noise around it (13 dB where four or more stretches were averaged), within half
 * a hertz of the mains frequency or as often that as its multiple; multiples must fit the mains frequency the others
 * show. A multiple that stands alone must fit mains within 0.3 Hz and be right within 1 Hz, so that other tones are not
 * called hum. The power of the noise is taken off the level, which is then good to about 1 dB (2 dB at the worst).
 *
 * Limits: two lines closer than 4 / duration Hz are one. A tone that happens to lie on a multiple is called hum.
 *
 * Reference: F. J. Harris, Proc. IEEE 66 (1978) 51-83 (the window); nominal frequencies: IEC 60038.
 *
 * @example
 * const silence = Float64Array.from({ length: 96000 }, (_, n) => 0.001 * Math.sin((2 * Math.PI * 50 * n) / 48000));
 * findHum(silence, 48000) // [{ frequencyHz: 50, levelDb: -60 }]
 */
export function findHum(silence: ArrayLike<number>, sampleRateHz: number): HumLine[] {
  if (!(silence.length >= SHORTEST_S * sampleRateHz) || sampleRateHz < 150) return [];
  const whole = silence instanceof Float64Array ? silence : Float64Array.from(silence);
  const bandHz = Math.min(HIGHEST_HZ + 40, 0.45 * sampleRateHz);
  const sound = decimate(withoutMean(whole), sampleRateHz, { bandHz });
  return humLines(meanSpectrum(sound.samples, sound.sampleRateHz, LONGEST_S), Math.min(HIGHEST_HZ, bandHz - 40));
}

function withoutMean(samples: Float64Array): Float64Array {
  let sum = 0;
  for (let n = 0; n < samples.length; n++) sum += samples[n];
  const mean = sum / samples.length;
  return samples.map((x) => x - mean);
}
