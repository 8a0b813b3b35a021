import type { Recording } from '../../model/curve';
import { decimate } from '../../signal/decimate';
import { inverseRealFft, realFft } from '../../signal/fourier';
import { multiplySpectra } from '../../signal/spectrum';
import { decodeWav } from '../../wav/decodeWav';
import { makeRecording } from '../../wav/makeRecording';
import type { Run } from '../bench';
import { randomFrom } from '../random';
import { equalise } from '../unitResponse';
import { addNoiseTo } from './backgroundNoise';
import { chainGains } from './chain';
import { digitise } from './digitise';
import { distortSound } from './distort';
import { excursionLevelDb } from './driverParts';
import { filterSpectrum, stepsUpTo } from './filterBank';
import { limitSound } from './limitSound';
import { playGrid } from './playGrid';
import { resample } from './resample';
import { distanceOf, pathOnGrid } from './roomPath';
import { fullScaleOf, playLevelDb, recordedHum, runScatterOf, settingOf } from './runFacts';
import type { SoundRigSpec } from './soundRigSpec';
import { type SoundTruth, soundTruth } from './soundTruth';
import { planTime, type Timeline, workSpan } from './timeline';

/** A shelf's gain at 0 Hz; there a high-pass lets nothing through. */
const NEARLY_ZERO_HZ = 1e-9;

/**
 * Play a sound through a virtual rig and record it.
 *
 * @param rig the bench. @param stimulus what is played, its first channel: sweep, bursts, programme, silence.
 * @param run the switch position, the drive above the lowest rung (dB, as commanded), and which take.
 * @returns the recording, and what is true of it. The same rig, stimulus and run always give the same bytes.
 * @throws BassloomError `unknown-setting`, `recorder-option`, `rig-too-long`, and those of `decodeWav` and rooms.
 *
 * The chain: switch, drive, limiter, excursion with its nonlinearity, unit, room or free field, microphone, noise,
 * hum, recorder with its clock, rail, rounding.
 *
 * Notes: nothing of the signal above some 2 kHz is played, and the work is done at a rate of some 8 kHz; clipping and
 * rounding happen at the recorder's own rate. All linear parts have exactly the gains of their closed forms. The
 * drive's true step, heat, scatter and microphone are those of the bench for curves; the density of the noise is
 * `noise` in dB re 20 uPa per hertz.
 *
 * @example
 * const sweep = makeSweep({ startHz: 5, endHz: 400, seconds: 20, sampleRateHz: 48000 });
 * const { capture, truth } = playRig(demoSoundRig(), sweep, { setting: 'shelf-flat', driveDb: 0 });
 */
export function playRig(rig: SoundRigSpec, stimulus: Recording, run: Run): { capture: Recording; truth: SoundTruth } {
  const { equaliser } = settingOf(rig, run.setting);
  const time = planTime(rig, stimulus);
  const played = Float64Array.from(decodeWav(stimulus).channels[0]);
  const atInput = receive(rig, played, stimulus, run, time);
  const { wav, clipped } = digitise(atInput, time.sampleRateHz, rig.recorder ?? {});
  const peak = played.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
  const silent = peak === 0;
  const capture = makeRecording(wav, {
    role: 'capture',
    label: silent ? `${rig.unit.device}, noise` : `${rig.unit.device}, ${run.setting}, drive +${run.driveDb} dB`,
    about: {
      device: rig.unit.device,
      ...(!silent && { setting: run.setting, driveDb: run.driveDb }),
      distanceM: distanceOf(rig),
    },
    steps: [{ did: 'play through virtual rig', with: { stimulus: stimulus.id, seed: rig.seed, take: run.take ?? 0 } }],
  });
  return {
    capture,
    truth: soundTruth({ rig, run, equaliser, time, clipped, toneDbfs: 20 * Math.log10(peak), stimulus }),
  };
}

/** What stands at the recorder's input at each of its samples, full scale = 1. */
function receive(rig: SoundRigSpec, played: Float64Array, stimulus: Recording, run: Run, time: Timeline): Float64Array {
  const { equaliser } = settingOf(rig, run.setting);
  const grid = playGrid(rig, stimulus.sampleRateHz);
  const low = decimate(played, stimulus.sampleRateHz, { bandHz: grid.topHz, factor: grid.factor });
  const rateHz = grid.rateHz;
  const span = workSpan(time, stimulus.seconds, grid.length / rateHz, rateHz);
  // the stimulus begins at a sample of its own, or it would have to be shifted by a fraction of one
  const before = Math.ceil(-span.originS * rateHz);
  const signal = new Float64Array(span.length);
  signal.set(low.samples, before);

  const stepHz = rateHz / grid.length;
  const path = pathOnGrid(rig, stepHz, grid.topHz);
  const gains = chainGains(rig, equaliser, stepsUpTo(stepHz, grid.topHz), path, runScatterOf(rig, run));
  const atZero = { equaliser: 10 ** (equalise(equaliser, NEARLY_ZERO_HZ).db / 20), excursion: 1, after: 0 };
  const spectrum = (part: keyof typeof gains) => filterSpectrum(grid, gains[part], span.length, atZero[part]);
  const scale = 10 ** (playLevelDb(rig, run) / 20);
  let bins: Float64Array = realFft(signal).map((value) => value * scale);
  if (equaliser.kind !== 'flat') bins = multiplySpectra(bins, spectrum('equaliser'));
  const { soundLimiter, nonlinearity, unit } = rig;
  const excursion = soundLimiter || nonlinearity ? spectrum('excursion') : undefined;
  if (soundLimiter) bins = realFft(limitSound(soundLimiter, unit, bins, excursion!, rateHz));
  if (nonlinearity) {
    const limit = 10 ** (excursionLevelDb(unit.highPass, nonlinearity.excursionAt20HzDb) / 20);
    bins = realFft(distortSound(nonlinearity, inverseRealFft(multiplySpectra(bins, excursion!)), limit));
  }
  bins = multiplySpectra(bins, spectrum('after'));
  const key = [rig.seed, 'sound', run.setting, run.driveDb, run.take ?? 0, stimulus.id];
  addNoiseTo(bins, rig, rateHz, grid.bandHz, randomFrom(key));

  return toRecorder(rig, inverseRealFft(bins), rateHz, before, grid.topHz, time, randomFrom([...key, 'hum']).uniform());
}

function toRecorder(
  rig: SoundRigSpec,
  sound: Float64Array,
  rateHz: number,
  before: number,
  passHz: number,
  time: Timeline,
  humTurn: number,
): Float64Array {
  const fullScaleDb = fullScaleOf(rig);
  const gain = 10 ** (((rig.recorder?.inputGainDb ?? 0) - fullScaleDb) / 20);
  for (const { frequencyHz, levelDb } of recordedHum(rig)) {
    const peak = 10 ** ((levelDb + fullScaleDb) / 20);
    const turn = (2 * Math.PI * frequencyHz) / rateHz;
    for (let n = 0; n < sound.length; n++) sound[n] += peak * Math.sin(turn * n + 2 * Math.PI * humTurn);
  }
  const firstS = before / rateHz + time.startS - time.latencyS;
  const read = resample(sound, rateHz, { firstS, stepS: time.stepS, count: time.count }, passHz);
  for (let n = 0; n < read.length; n++) read[n] *= gain;
  return read;
}
