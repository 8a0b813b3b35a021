import { beforeAll, describe, it } from 'vitest';
import { deconvolveCapture } from '../../lib/analysis/deconvolution/deconvolveCapture';
import type { Recording } from '../../lib/model/curve';
import { stepsOf } from '../../lib/model/step';
import { randomFrom } from '../../lib/rig/random';
import { drawSoundRig } from '../../lib/rig/sound/drawSoundRig';
import { playRig } from '../../lib/rig/sound/playRig';
import { makeSweep } from '../../lib/signal/makeSweep';
import { decodeWav } from '../../lib/wav/decodeWav';
import { makeRecording } from '../../lib/wav/makeRecording';
import { writeWav } from '../../lib/wav/writeWav';
import { delayOf, type Simulated, simulateCapture, toneThrough } from '../analysis/deconvolution/simulatedCapture';
import { Worst } from './worst';

const SEEDS = Array.from({ length: 12 }, (_, i) => i + 1);
const RATES = [48000, 44100, 96000];
const LENGTHS_S = [5, 8, 12, 20];
const worst = new Worst();

/** The capture in one white noise, at signal-to-noise ratios of all of it, dB. */
function withNoise(capture: Recording, seed: number, ...snrDb: number[]): Recording[] {
  const clean = Float64Array.from(decodeWav(capture).channels[0]);
  let power = 0;
  for (const x of clean) power += (x * x) / clean.length;
  const random = randomFrom([seed, 'noise on the capture']);
  const noise = clean.map(() => random.normal());
  return snrDb.map((snr) => {
    const gain = Math.sqrt(power) * 10 ** (-snr / 20);
    const wav = writeWav({ sampleRateHz: capture.sampleRateHz, channels: [clean.map((x, n) => x + gain * noise[n])] });
    return makeRecording(wav, { ...capture, label: `seed ${seed}, ${snr} dB` });
  });
}

/** The beginning of a capture, as if the recorder had stopped. */
function stopped(capture: Recording, seconds: number): Recording {
  const { sampleRateHz, channels } = decodeWav(capture);
  const held = channels[0].slice(0, Math.round(seconds * sampleRateHz));
  return makeRecording(writeWav({ sampleRateHz, channels: [held] }), { label: 'stopped' });
}

/** Error that noise alone makes in a level, dB, four standard deviations. */
const scatter = (snrDb: number) => 4 * 6.15 * 10 ** (-snrDb / 20);

function checkLevels(name: string, capture: Recording, stimulus: Recording, truthAt: (hz: number[]) => number[]): void {
  const { response } = deconvolveCapture(capture, stimulus, { harmonics: 1, pointsPerOctave: 48 });
  const truth = truthAt(response.frequencyHz);
  response.frequencyHz.forEach((hz, i) => {
    const snr = response.levelDb[i] - response.noiseDb![i];
    const error = response.levelDb[i] - truth[i];
    const where = `${name}, ${hz.toFixed(2)} Hz`;
    if (hz >= 12 && hz <= 250 && snr > 25) worst.add('level, 12 to 250 Hz', error, 0.2 + scatter(snr), where);
    if (hz >= 12 && hz <= 250 && snr > 50) worst.add('level, 12 to 250 Hz, 50 dB above the noise', error, 0.2, where);
    if (hz < 12 && snr > 25) worst.add('level, start to 12 Hz', error, 0.8 + scatter(snr), where);
  });
}

beforeAll(() => {
  for (const seed of SEEDS) {
    const sampleRateHz = RATES[seed % 3];
    const stimulus = makeSweep({ startHz: 5, endHz: 400, seconds: LENGTHS_S[seed % 4], sampleRateHz, levelDbfs: -12 });
    const rig = drawSoundRig(seed, { noise: undefined, soundLimiter: undefined, scatter: { gainDb: 0, shapeDb: 0 } });
    rig.recorder = { ...rig.recorder, bits: 32, clockPpm: 0 };
    const { capture, truth } = playRig(rig, stimulus, { setting: rig.settings[0].name, driveDb: 3 });
    const name = `seed ${seed}`;
    const [loud, quiet] = withNoise(capture, seed, 20, 60);
    checkLevels(name, loud, stimulus, (hz) => truth.tone(hz).levelDbfs);

    const clear = deconvolveCapture(quiet, stimulus, { pointsPerOctave: 48 });
    const tone = truth.tone(clear.thd.frequencyHz);
    clear.thd.frequencyHz.forEach((hz, i) => {
      // below 0.03 % harmonics are under what the rig's own filters keep apart, 100 dB
      if (hz < 16 || hz > 250 || tone.thdPercent[i] < 0.03) return;
      const noise = clear.harmonics.reduce((sum, h) => sum + 10 ** (h.noiseDb![i] / 10), 0);
      // of the true harmonics: those read would favour points that noise has raised
      const snr = 20 * Math.log10(tone.thdPercent[i] / 100) - 10 * Math.log10(noise);
      const error = 20 * Math.log10(clear.thd.percent[i] / tone.thdPercent[i]);
      if (snr > 40)
        worst.add('THD where harmonics are 40 dB above the noise', error, 0.3, `${name}, ${hz.toFixed(1)} Hz`);
      else if (snr > 10) worst.add('THD elsewhere', error, 0.6 + scatter(snr), `${name}, ${hz.toFixed(1)} Hz`);
    });
  }
  for (const seed of SEEDS) {
    const random = randomFrom([seed, 'simulated']);
    const sampleRateHz = RATES[seed % 3];
    const stimulus = makeSweep({ startHz: 5, endHz: 400, seconds: LENGTHS_S[seed % 4], sampleRateHz, levelDbfs: -12 });
    const played = Float64Array.from(decodeWav(stimulus).channels[0]);
    const corner = random.between(20, 30);
    const lowPass = random.between(100, 250);
    const after =
      seed % 2 === 0
        ? [{ kind: 'high-pass' as const, hz: corner, q: random.between(0.5, 1) }]
        : [
            { kind: 'high-pass' as const, hz: corner, q: 0.5412 },
            { kind: 'high-pass' as const, hz: corner, q: 1.3066 },
          ];
    const rig: Simulated = {
      after: seed % 3 === 0 ? after : [...after, { kind: 'low-pass' as const, hz: lowPass }],
      coefficients: [0.1, -0.2, 0.05, 0.1],
      echoes:
        seed % 4 === 0
          ? []
          : [3, 9, 21].map((ms) => ({ ms: ms + random.between(0, 5), gain: random.between(-0.25, 0.25) })),
      delayMs: random.between(2, 60),
      noise: 2e-4,
    };
    const capture = simulateCapture(played, sampleRateHz, rig, seed);
    const name = `simulated ${seed}`;
    const found = deconvolveCapture(capture, stimulus);
    worst.add('delay, ms', found.delayMs - delayOf(rig, sampleRateHz), 0.1, name);
    const amplitude = 10 ** (-12 / 20);
    found.thd.frequencyHz.forEach((hz, i) => {
      if (hz < 16 || hz > 250 || i % 8 > 0) return;
      const { thdDb } = toneThrough(rig, amplitude, hz, sampleRateHz);
      const noise = found.harmonics.reduce((sum, h) => sum + 10 ** (h.noiseDb![i] / 10), 0);
      const snr = thdDb - 10 * Math.log10(noise);
      const error = 20 * Math.log10(found.thd.percent[i] / 100) - thdDb;
      if (snr > 10) worst.add('THD of a memoryless curve', error, 0.3 + scatter(snr), `${name}, ${hz.toFixed(1)} Hz`);
    });
    // the recorder stops while the sweep is at this frequency
    const stopHz = random.between(60, 300);
    const { rateSeconds } = stepsOf(stimulus, 'make sweep')[0].with;
    const seconds = 1 + delayOf(rig, sampleRateHz) / 1000 + rateSeconds * Math.log(stopHz / 5);
    const { quality, response } = deconvolveCapture(stopped(capture, seconds), stimulus, { harmonics: 1 });
    worst.add('truncated frequency, %', 100 * ((quality.truncatedAtHz ?? 0) / stopHz - 1), 1, name);
    response.frequencyHz.forEach((hz, i) => {
      if (hz < 12) return;
      const error = response.levelDb[i] - toneThrough(rig, amplitude, hz, sampleRateHz).levelDb;
      worst.add('level of a truncated capture', error, 0.2, `${name}, ${hz.toFixed(1)} Hz`);
    });
  }
  worst.print('Deconvolution against the truth of 24 rigs');
});

describe('deconvolution against the truth', () => {
  it.each([
    ['level, 12 to 250 Hz', 2000],
    ['level, 12 to 250 Hz, 50 dB above the noise', 300],
    ['level, start to 12 Hz', 200],
    ['THD where harmonics are 40 dB above the noise', 50],
    ['THD elsewhere', 50],
    ['THD of a memoryless curve', 300],
    ['delay, ms', 12],
    ['truncated frequency, %', 12],
    ['level of a truncated capture', 1000],
  ])('keeps the %s', (claim, least) => worst.hold(claim, least));
});
