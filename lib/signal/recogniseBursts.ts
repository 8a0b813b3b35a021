import { nearestCentre } from '../model/octaves';
import { makeRefusal } from '../words/makeRefusal';
import type { ScheduledBurst } from './burstSchedule';
import { loudStretches } from './loudStretches';
import { BURST_CYCLES } from './toneBurst';

/** Share of a stretch's energy that may differ from a burst: dither and the steps of 16 bits in a quiet one. */
const MOST_RESIDUAL = 0.03;
/** Frequencies within this of a base-10 third-octave centre are that centre. */
const SNAP = 0.001;
/** Standard deviation of t under cos^4(pi t / T), the square of a Hann window of length T, is 0.1415 T. */
const SPREAD_OF_LENGTH = Math.sqrt((1 / 32 - 1 / (4 * Math.PI ** 2) + 1 / (64 * Math.PI ** 2)) / (3 / 8));

/**
 * Recover the schedule of bursts from the samples of a stimulus that was read back from a file.
 *
 * @param samples bursts of 6.5 cycles under a Hann window, as `toneBurst` makes them, with silence between.
 * @param sampleRateHz sample rate, Hz.
 * @returns every burst in order of time: its frequency (Hz; the base-10 third-octave centre where it is within 0.1 %),
 * its level (dB re a full-scale sine), position and length in samples.
 * @throws BassloomError `not-bursts` where the sound is something else.
 *
 * Notes: silence is what the quietest parts of the file hold, so dither does no harm. Each stretch between silences
 * is fitted by a burst: its middle is the centre of its energy, about which it is even; its frequency is where it
 * resembles the burst most. A stretch that leaves more than 3 % of its energy unexplained refuses the whole file. Silence
 * must last longer than a tenth of the longest burst.
 *
 * @example
 * recogniseBursts(decodeWav(stimulus.wav).channels[0], stimulus.sampleRateHz)[0]
 * // { centreHz: 19.95..., levelDbfs: -30, atSample: 48000, samples: 15637 }
 */
export function recogniseBursts(samples: ArrayLike<number>, sampleRateHz: number): ScheduledBurst[] {
  const stretches = loudStretches(samples, sampleRateHz);
  if (stretches.length === 0) refuse('no-silence');
  return stretches.map(([from, to]) => fitBurst(samples, sampleRateHz, from, to));
}

function fitBurst(samples: ArrayLike<number>, rate: number, from: number, to: number): ScheduledBurst {
  const { energy, middle, spread } = momentsOf(samples, from, to);
  const rough = (BURST_CYCLES * SPREAD_OF_LENGTH * rate) / spread;
  if (!(energy > 0 && rough > 0 && rough < rate / 3)) refuse('too-short', from / rate);
  const likeness = (hz: number) => project(samples, rate, hz, middle);
  const hz = snap(most((f) => likeness(f).likeness, rough * 0.92, rough * 1.08));
  const { amplitude, likeness: explained } = likeness(hz);
  if (!(1 - explained / energy < MOST_RESIDUAL)) refuse('unlike', from / rate);
  const half = (BURST_CYCLES / 2 / hz) * rate;
  return {
    centreHz: hz,
    levelDbfs: 20 * Math.log10(Math.abs(amplitude)),
    atSample: Math.round(middle - half),
    samples: Math.floor(2 * half) + 1,
  };
}

/** Energy, and mean and standard deviation of its position, in samples. */
function momentsOf(samples: ArrayLike<number>, from: number, to: number) {
  let [energy, first, second] = [0, 0, 0];
  for (let n = from; n < to; n++) {
    const power = samples[n] ** 2;
    energy += power;
    first += power * (n - from);
    second += power * (n - from) ** 2;
  }
  const mean = first / energy;
  return { energy, middle: from + mean, spread: Math.sqrt(Math.max(0, second / energy - mean * mean)) };
}

/** Least-squares amplitude of a burst about a middle, and the energy that it explains. */
function project(samples: ArrayLike<number>, rate: number, hz: number, middle: number) {
  const half = (BURST_CYCLES / 2 / hz) * rate;
  const from = Math.max(0, Math.ceil(middle - half));
  const to = Math.min(samples.length, Math.floor(middle + half) + 1);
  const turn = (2 * Math.PI * hz) / rate;
  let [inner, own] = [0, 0];
  for (let n = from; n < to; n++) {
    const t = n - middle;
    // the sine stands at its sixth crest but one, +1, in the middle of 6.5 cycles
    const burst = 0.5 * (1 + Math.cos((Math.PI * t) / half)) * Math.cos(turn * t);
    inner += samples[n] * burst;
    own += burst * burst;
  }
  return { amplitude: inner / own, likeness: (inner * inner) / own };
}

/** Where a function of one hump is greatest, by golden sections. */
function most(value: (x: number) => number, low: number, high: number): number {
  const golden = (Math.sqrt(5) - 1) / 2;
  let [a, b] = [low, high];
  let [c, d] = [b - golden * (b - a), a + golden * (b - a)];
  let [atC, atD] = [value(c), value(d)];
  while (b - a > 1e-6 * high) {
    if (atC > atD) {
      [b, d, atD] = [d, c, atC];
      c = b - golden * (b - a);
      atC = value(c);
    } else {
      [a, c, atC] = [c, d, atD];
      d = a + golden * (b - a);
      atD = value(d);
    }
  }
  return (a + b) / 2;
}

function snap(hz: number): number {
  const centre = nearestCentre(hz);
  return Math.abs(hz / centre - 1) < SNAP ? centre : hz;
}

function refuse(why: 'no-silence' | 'too-short' | 'unlike', atS: number | null = null): never {
  throw makeRefusal('not-bursts', { label: null, cycles: BURST_CYCLES, why, atS }, { field: 'stimulus' });
}
