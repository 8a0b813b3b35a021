import type { MeanSpectrum } from '../capture/meanSpectrum';
import { peakBetween, type SpectralPeak } from '../capture/peakBetween';
import { median } from '../fitting/median';

/** How far from the stated frequency a tone is looked for, and how far its surroundings reach. */
const WIDTH = 0.2;
/** A clear tone has so many times the power of a bin of its surroundings: 20 dB. */
const CLEAR = 100;

/**
 * Find the tone near a frequency.
 *
 * @returns it; or, where none is clear, the frequency of the clearest tone elsewhere, null where there is none either.
 */
export function findTone(spectrum: MeanSpectrum, hz: number): SpectralPeak | { instead: number | null } {
  const tone = clearPeak(spectrum, hz * (1 - WIDTH), hz * (1 + WIDTH));
  if (tone) return tone;
  const elsewhere = clearPeak(spectrum, 5, spectrum.power.length * spectrum.binHz);
  return { instead: elsewhere?.frequencyHz ?? null };
}

/** The largest peak of a range, where it stands out of what is around it. */
function clearPeak(spectrum: MeanSpectrum, lowHz: number, highHz: number): SpectralPeak | undefined {
  const peak = peakBetween(spectrum, lowHz, highHz);
  if (!peak) return undefined;
  const { power, binHz, stretchS } = spectrum;
  const lobe = 2.2 / stretchS;
  const around: number[] = [];
  const reach = Math.max(WIDTH * peak.frequencyHz, 4 * lobe);
  const last = Math.min(power.length - 1, Math.ceil((peak.frequencyHz + reach) / binHz));
  for (let i = Math.max(1, Math.floor((peak.frequencyHz - reach) / binHz)); i <= last; i++) {
    if (Math.abs(i * binHz - peak.frequencyHz) > lobe) around.push(power[i]);
  }
  return around.length === 0 || peak.power > CLEAR * median(around) ? peak : undefined;
}
