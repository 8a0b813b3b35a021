import type { About, Recording } from '../../../lib/model/curve';
import { randomFrom } from '../../../lib/rig/random';
import { type BurstSpec, burstSchedule, type ScheduledBurst } from '../../../lib/signal/burstSchedule';
import { makeRecording } from '../../../lib/wav/makeRecording';
import { type WriteWavOptions, writeWav } from '../../../lib/wav/writeWav';

/** A unit without memory, a room of echoes, and a recorder of its own clock. Everything is worked out in closed form. */
export interface Simulated {
  /** Output for an input; x where left out. */
  unit?: (x: number) => number;
  /** Gain of a whole burst, as of a slow limiter: it adds no harmonics. */
  gain?: (burst: ScheduledBurst) => number;
  /** Echoes behind the direct sound: delay, s, and gain. */
  echoes?: [delayS: number, gain: number][];
  /** How long before the stimulus the recorder started, s; below 0: later. */
  leadS?: number;
  /** How much longer it went on, s. */
  tailS?: number;
  ppm?: number;
  sampleRateHz?: number;
  /** Root mean square of white noise, full scale = 1. */
  noise?: number;
  hum?: { hz: number; amplitude: number };
  offset?: number;
  /** Rail of the recorder. */
  rail?: number;
  seed?: number;
  about?: About;
  format?: WriteWavOptions['format'];
}

/** What a recorder would have caught of some bursts. */
export function playBursts(spec: BurstSpec, simulated: Simulated = {}): Recording {
  const {
    unit = (x) => x,
    gain: gainOf = () => 1,
    echoes = [],
    leadS = 0.7,
    tailS = 0.5,
    ppm = 0,
    noise = 0,
    hum,
    offset = 0,
  } = simulated;
  const { samples, bursts } = burstSchedule(spec);
  const rate = simulated.sampleRateHz ?? spec.sampleRateHz;
  const speed = 1 + ppm * 1e-6;
  const total = Math.floor((leadS + (samples.length / spec.sampleRateHz) * speed + tailS) * rate);
  const out = new Float64Array(total).fill(offset);
  for (const burst of bursts) {
    const { centreHz, levelDbfs, atSample } = burst;
    const amplitude = 10 ** (levelDbfs / 20);
    const seconds = 6.5 / centreHz;
    for (const [delayS, gain] of [[0, 1], ...echoes]) {
      const begins = leadS + (atSample / spec.sampleRateHz + delayS) * speed;
      const [from, to] = [Math.ceil(begins * rate), Math.floor((begins + seconds * speed) * rate)];
      for (let n = Math.max(0, from); n <= Math.min(to, total - 1); n++) {
        const t = (n / rate - begins) / speed;
        const x = amplitude * Math.sin((Math.PI * t) / seconds) ** 2 * Math.sin(2 * Math.PI * centreHz * t);
        out[n] += gain * unit(gainOf(burst) * x);
      }
    }
  }
  const random = randomFrom([simulated.seed ?? 1]);
  if (noise > 0) for (let n = 0; n < total; n++) out[n] += noise * random.normal();
  if (hum) for (let n = 0; n < total; n++) out[n] += hum.amplitude * Math.sin((2 * Math.PI * hum.hz * n) / rate);
  const { rail } = simulated;
  if (rail) for (let n = 0; n < total; n++) out[n] = Math.max(-rail, Math.min(rail, out[n]));
  const wav = writeWav({ sampleRateHz: rate, channels: [out] }, { format: simulated.format ?? 'float32' });
  return makeRecording(wav, { label: 'bursts', about: { device: 'a', setting: 'flat', ...simulated.about } });
}

/**
 * What y = x + a2 x^2 + a3 x^3 makes of a Hann burst of amplitude A, in closed form: the n-th power of the window has the
 * mean C(2n, n) / 4^n (Wallis), and that is its spectrum at the middle of its lobe.
 */
export function polynomialTruth(a2: number, a3: number, amplitude: number) {
  const mean = [1, 1 / 2, 3 / 8, 5 / 16];
  const fundamental = amplitude * mean[1] + 0.75 * a3 * amplitude ** 3 * mean[3];
  const db = (x: number) => 20 * Math.log10(Math.abs(x));
  return {
    peak: amplitude + 0.75 * a3 * amplitude ** 3,
    secondDb: db(((a2 * amplitude ** 2) / 2) * mean[2]) - db(fundamental),
    thirdDb: db(((a3 * amplitude ** 3) / 4) * mean[3]) - db(fundamental),
  };
}
