import type { Recording } from '../../../lib/model/curve';
import { randomFrom } from '../../../lib/rig/random';
import { type BiquadSpec, biquad } from '../../../lib/signal/biquad';
import { biquadResponse, runBiquads } from '../../../lib/signal/runBiquads';
import { makeRecording } from '../../../lib/wav/makeRecording';
import { writeWav } from '../../../lib/wav/writeWav';

/** A unit, a room of echoes and a recorder, all of closed form. */
export interface Simulated {
  /** Ahead of and behind the curvature. */
  before?: BiquadSpec[];
  after?: BiquadSpec[];
  /** x + c2 x^2 + c3 x^3 + ... */
  coefficients?: number[];
  echoes?: { ms: number; gain: number }[];
  delayMs?: number;
  /** White noise, root mean square; hum as a sine. */
  noise?: number;
  hum?: { hz: number; amplitude: number };
  /** The recorder starts so much after the player (negative: before), s, and records so long. */
  startS?: number;
  seconds?: number;
  clockPpm?: number;
  format?: 'pcm16' | 'pcm24' | 'float32';
  channels?: (samples: Float64Array) => Float64Array[];
}

/** Play samples at a rate through it; the delay is rounded to whole samples, see `delayOf`. */
export function simulateCapture(played: Float64Array, rateHz: number, rig: Simulated, seed = 1): Recording {
  const { before = [], after = [], coefficients = [], echoes = [], noise = 0, hum, clockPpm = 0 } = rig;
  const chain = (specs: BiquadSpec[]) => specs.map((spec) => biquad(spec, rateHz));
  const bent = runBiquads(played, chain(before)).map((x) => bend(x, coefficients));
  const through = runBiquads(bent, chain(after));
  const start = Math.round((rig.startS ?? 0) * rateHz);
  const count = Math.round((rig.seconds ?? played.length / rateHz - (rig.startS ?? 0)) * rateHz);
  const heard = new Float64Array(count + 200);
  for (const { ms, gain } of [{ ms: 0, gain: 1 }, ...echoes]) {
    const late = Math.round(((rig.delayMs ?? 0) / 1000) * rateHz) + Math.round((ms / 1000) * rateHz) - start;
    for (let n = Math.max(0, late); n < heard.length && n - late < through.length; n++)
      heard[n] += gain * through[n - late];
  }
  const samples = (clockPpm === 0 ? heard : faster(heard, 1 + clockPpm * 1e-6)).slice(0, count);
  const random = randomFrom(['simulated capture', seed]);
  for (let n = 0; n < count; n++) {
    samples[n] +=
      noise * random.normal() + (hum ? hum.amplitude * Math.sin((2 * Math.PI * hum.hz * n) / rateHz + 1) : 0);
  }
  const channels = rig.channels ? rig.channels(samples) : [samples];
  return makeRecording(writeWav({ sampleRateHz: rateHz, channels }, { format: rig.format ?? 'float32' }), {
    label: `simulated ${seed}`,
    about: { device: 'simulated' },
  });
}

/** True delay, ms. */
export function delayOf(rig: Simulated, rateHz: number): number {
  const start = Math.round((rig.startS ?? 0) * rateHz);
  return ((Math.round(((rig.delayMs ?? 0) / 1000) * rateHz) - start) / rateHz) * 1000;
}

/** A steady tone: level of the fundamental (dB re a full-scale sine) and of harmonics 2 to 5 re it. */
export function toneThrough(rig: Simulated, amplitude: number, hz: number, rateHz: number) {
  const chain = (specs: BiquadSpec[] = []) => specs.map((spec) => biquad(spec, rateHz));
  const driven = amplitude * 10 ** (biquadResponse(chain(rig.before), hz, rateHz).db / 20);
  const orders = harmonicsOf(driven, rig.coefficients ?? []);
  const level = (order: number) =>
    20 * Math.log10(Math.abs(orders[order])) +
    biquadResponse(chain(rig.after), order * hz, rateHz).db +
    echoGainDb(rig, order * hz, rateHz);
  const own = level(1);
  const harmonicsDb = [2, 3, 4, 5].map((order) => level(order) - own);
  return {
    levelDb: own,
    harmonicsDb,
    thdDb: 10 * Math.log10(harmonicsDb.reduce((sum, db) => sum + 10 ** (db / 10), 0)),
  };
}

/** Amplitudes of the orders 0 to 5 of a cosine of amplitude a through the curve: x^n as a sum of cosines. */
function harmonicsOf(a: number, coefficients: number[]): number[] {
  const out = [0, a, 0, 0, 0, 0];
  coefficients.forEach((c, i) => {
    const n = i + 2;
    // cos^n = 2^(1 - n) sum of C(n, k) cos((n - 2k) x), the middle term halved (Abramowitz, Stegun 4.3.134 ff.)
    for (let k = 0; 2 * k <= n; k++) {
      const order = n - 2 * k;
      out[order] += c * a ** n * 2 ** (1 - n) * choose(n, k) * (order === 0 ? 0.5 : 1);
    }
  });
  return out;
}

function choose(n: number, k: number): number {
  return k === 0 ? 1 : (choose(n, k - 1) * (n - k + 1)) / k;
}

function bend(x: number, coefficients: number[]): number {
  return coefficients.reduce((sum, c, i) => sum + c * x ** (i + 2), x);
}

function echoGainDb({ echoes = [] }: Simulated, hz: number, rateHz: number): number {
  let [re, im] = [1, 0];
  for (const { ms, gain } of echoes) {
    const angle = (2 * Math.PI * hz * Math.round((ms / 1000) * rateHz)) / rateHz;
    re += gain * Math.cos(angle);
    im -= gain * Math.sin(angle);
  }
  return 20 * Math.log10(Math.hypot(re, im));
}

/** What a clock faster by `ratio` records: more samples of the same sound, by a windowed sinc of 64 samples. */
function faster(samples: Float64Array, ratio: number): Float64Array {
  return samples.map((_, n) => {
    const at = n / ratio;
    const base = Math.floor(at);
    let sum = 0;
    for (let k = Math.max(0, base - 31); k <= Math.min(samples.length - 1, base + 32); k++) {
      const u = at - k;
      const sinc = Math.abs(u) < 1e-12 ? 1 : Math.sin(Math.PI * u) / (Math.PI * u);
      sum += samples[k] * sinc * (0.5 + 0.5 * Math.cos((Math.PI * u) / 33));
    }
    return sum;
  });
}
