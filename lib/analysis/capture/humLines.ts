import { levelOf, powerOf } from '../../model/decibel';
import { leakage } from './leakage';
import { localNoise } from './localNoise';
import type { MeanSpectrum } from './meanSpectrum';
import { peakBetween } from './peakBetween';

/** A line of mains hum. */
export interface HumLine {
  frequencyHz: number;
  levelDb: number;
}

/** What lies around a frequency where nothing else sounds. */
export interface Silence {
  spectrumAt(hz: number): MeanSpectrum | undefined;
  /** Whether it is a room that rings there, asked only where something stands out. */
  isRingingAt(hz: number): boolean;
}

interface Line {
  order: number;
  frequencyHz: number;
  power: number;
  /** How far off its frequency may be for the resolution, Hz. */
  slackHz: number;
  least: number;
  /** Peak over the noise around it, as a power. */
  above: number;
}

const MAINS_HZ = [50, 60];
/** How far mains may be off, Hz. */
const MOST_OFF_HZ = 0.5;
/** How far mains, and a multiple itself, may be off where that multiple is all there is, Hz. */
const ALONE_OFF_HZ = { mains: 0.3, line: 1 };
/** How far a peak of one stretch, and of four or more, stands above the noise before it counts, dB. */
const ABOVE_DB = 16;
const ABOVE_AVERAGED_DB = 13;
/** One that does not count itself, but bears out those that do. */
const ABOVE_TO_SUPPORT_DB = 10;

/**
 * Lines of hum in a spectrum of silence: see `findHum`.
 *
 * @param toHz where to stop looking, Hz.
 */
export function humLines(silence: Silence, toHz: number): HumLine[] {
  const [best] = MAINS_HZ.map((mains) => linesOf(silence, mains, toHz)).sort((a, b) => weight(b) - weight(a));
  return best.map(({ frequencyHz, power, above }) => ({
    frequencyHz,
    levelDb: levelOf(power * (1 - 1 / above)),
  }));
}

/** Lines that count, in dB above the noise: tells 50 from 60 Hz where both could be meant (300 Hz). */
function weight(lines: Line[]): number {
  return lines.reduce((sum, { above }) => sum + levelOf(above), 0);
}

function linesOf({ spectrumAt, isRingingAt }: Silence, mains: number, toHz: number): Line[] {
  const lines: Line[] = [];
  for (let order = 1; order * mains <= toHz; order++) {
    const spectrum = spectrumAt(order * mains);
    const line = spectrum && lineNear(spectrum, order * mains, order * MOST_OFF_HZ);
    if (!line || line.above < powerOf(ABOVE_TO_SUPPORT_DB) || isRingingAt(order * mains)) continue;
    const least = powerOf(spectrum.stretches >= 4 ? ABOVE_AVERAGED_DB : ABOVE_DB);
    lines.push({ ...line, order, slackHz: 0.25 / spectrum.stretchS, least });
  }
  const together = agreeing(lines);
  return together.length > 1 || together.every((line) => fitsAlone(line, mains))
    ? together.filter(({ above, least }) => above >= least)
    : [];
}

/** The lines that are multiples of one mains frequency: that of the line which most of the others agree with. */
function agreeing(lines: Line[]): Line[] {
  let best: Line[] = [];
  for (const { frequencyHz, order, slackHz } of lines) {
    const together = lines.filter((other) => {
      const predicted = (frequencyHz / order) * other.order;
      return Math.abs(other.frequencyHz - predicted) <= other.slackHz + (slackHz * other.order) / order;
    });
    if (weight(together) > weight(best)) best = together;
  }
  return best;
}

function fitsAlone({ frequencyHz, order }: Line, mains: number): boolean {
  const off = Math.abs(frequencyHz - order * mains);
  return order === 1 || off <= Math.min(ALONE_OFF_HZ.mains * order, ALONE_OFF_HZ.line);
}

/** The largest peak within some hertz of a frequency, and how far it stands out. */
function lineNear(
  spectrum: MeanSpectrum,
  hz: number,
  offHz: number,
): Pick<Line, 'frequencyHz' | 'power' | 'above'> | undefined {
  const slack = 0.1 / spectrum.stretchS;
  const peak = peakBetween(spectrum, hz - offHz - slack, hz + offHz + slack);
  if (!peak) return undefined;
  const noise = localNoise(spectrum, peak.frequencyHz);
  // what does not stand out of the noise need not be looked for in what other lines leak
  const isLost = peak.power < noise * powerOf(ABOVE_TO_SUPPORT_DB);
  const leaked = isLost ? 0 : leakage(spectrum, peak.frequencyHz);
  return { ...peak, above: peak.power / Math.max(noise, leaked) };
}
