import type { Caveat } from '../../model/caveat';
import { levelOf } from '../../model/decibel';
import { bandAround } from '../../model/octaves';
import { makeCaveat } from '../../words/makeCaveat';
import type { MeanSpectrum } from '../capture/meanSpectrum';
import { peakBetween } from '../capture/peakBetween';
import { median } from '../fitting/median';

const DRIFT_DB = 0.2;
const SHORT_S = 2;
const NOISE_DB = 20;
const DISTORTION = 0.04;
const FREQUENCY_OFF = 0.02;
const HIGHEST_HARMONIC = 5;

/**
 * What speaks against a calibration from a tone.
 *
 * @param spectrum of the steady part. @param hz frequency of the tone. @param off its deviation from the stated one, a
 * share. @param part its levels over time (dB) and duration (s).
 */
export function toneCaveats(
  spectrum: MeanSpectrum,
  hz: number,
  off: number,
  part: { levels: Float64Array; seconds: number },
): Caveat[] {
  const tone = peakBetween(spectrum, hz * 0.97, hz * 1.03)?.power ?? 0;
  return [
    driftCaveat(part),
    noiseCaveat(spectrum, hz, tone),
    ...tonesCaveats(spectrum, hz, tone),
    offCaveat(off),
  ].filter((caveat) => caveat !== undefined);
}

function driftCaveat({ levels, seconds }: { levels: Float64Array; seconds: number }): Caveat | undefined {
  const third = Math.max(1, Math.floor(levels.length / 3));
  const drift = median([...levels.subarray(-third)]) - median([...levels.subarray(0, third)]);
  if (Math.abs(drift) > DRIFT_DB) {
    return makeCaveat('calibration-drift', 'doubt', { driftDb: drift });
  }
  if (seconds >= SHORT_S) return undefined;
  return makeCaveat('calibration-brief', 'remark', { seconds });
}

function noiseCaveat({ power, binHz, stretchS }: MeanSpectrum, hz: number, tone: number): Caveat | undefined {
  const [low, high] = bandAround(hz, 3);
  const lobe = 2.2 / stretchS;
  const beside: number[] = [];
  for (let i = Math.ceil(low / binHz); i <= high / binHz; i++) {
    if (Math.abs(i * binHz - hz) > lobe) beside.push(power[i]);
  }
  const mean = beside.reduce((sum, value) => sum + value, 0) / beside.length;
  // a Hann window is as wide as 1.5 / duration for noise
  const noise = (mean * (high - low) * stretchS) / 1.5;
  if (!(levelOf(tone / noise) < NOISE_DB)) return undefined;
  return makeCaveat('calibration-noisy', 'doubt', { snrDb: levelOf(tone / noise) });
}

function tonesCaveats(spectrum: MeanSpectrum, hz: number, tone: number): Caveat[] {
  const caveats: Caveat[] = [];
  const slack = 1 / spectrum.stretchS;
  const half = (spectrum.power.length - 1) * spectrum.binHz;
  let harmonics = 0;
  for (let order = 2; order <= HIGHEST_HARMONIC && order * hz + slack < half; order++) {
    harmonics += peakBetween(spectrum, order * hz - slack, order * hz + slack)?.power ?? 0;
  }
  if (harmonics > DISTORTION ** 2 * tone) {
    caveats.push(makeCaveat('calibration-impure', 'doubt', { percent: 100 * Math.sqrt(harmonics / tone) }));
  }
  const others = [peakBetween(spectrum, 5, hz * 0.9), peakBetween(spectrum, hz * 1.1, half)];
  for (const other of others) {
    if (!other || other.power <= tone) continue;
    caveats.push(makeCaveat('calibration-other-tone', 'doubt', { frequencyHz: other.frequencyHz }));
  }
  return caveats;
}

function offCaveat(off: number): Caveat | undefined {
  if (Math.abs(off) <= FREQUENCY_OFF) return undefined;
  return makeCaveat('calibration-frequency-off', 'doubt', { percent: 100 * off });
}
