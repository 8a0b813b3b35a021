import type { Recording } from '../../model/curve';
import type { StepOf } from '../../model/step';
import { makeRecording } from '../../wav/makeRecording';
import { writeWav } from '../../wav/writeWav';
import type { Transfer } from './divide/fundamental';
import { resample } from './place/resample';
import { windowGain } from './window/timeWindow';

/** Sample rate over the end of the band, at least. */
const RATE_TO_BAND = 2.7;
/** What is kept before and after the arrival, s. */
const BEFORE_S = 0.5;
const AFTER_S = 3.6;

/**
 * Impulse response as a recording: float WAV, mono, at a whole part of the capture's sample rate that holds its band.
 *
 * @param transfer before windows. @param captureRateHz whole Hz. @param parts label and step, which is given
 * `stimulusAtSample`: where the stimulus would have arrived without delay, often before the first sample.
 */
export function impulseRecording(
  transfer: Transfer,
  captureRateHz: number,
  parts: Pick<Recording, 'label' | 'about' | 'steps'>,
  step: StepOf<'deconvolve'>,
): Recording {
  const { impulse, rateHz, arrivalS, band } = transfer;
  const most = Math.max(1, Math.floor(captureRateHz / (RATE_TO_BAND * band.to)));
  let factor = most;
  while (captureRateHz % factor !== 0) factor--;
  const sampleRateHz = captureRateHz / factor;
  const firstSample = Math.floor((arrivalS - BEFORE_S) * sampleRateHz);
  const count = Math.ceil((BEFORE_S + AFTER_S) * sampleRateHz);
  // the stretch in one piece, with what the interpolation needs around it
  const from = Math.floor((firstSample / sampleRateHz) * rateHz) - 40;
  const length = Math.ceil((count / sampleRateHz) * rateHz) + 80;
  const piece = new Float64Array(length);
  for (let n = 0; n < length; n++) {
    const at = (from + n) % impulse.length;
    piece[n] = impulse[at < 0 ? at + impulse.length : at];
  }
  const ratio = rateHz / sampleRateHz;
  const samples = resample(piece, ratio, count, firstSample * ratio - from);
  const window = { before: BEFORE_S, wholeBefore: 0.8 * BEFORE_S, wholeAfter: 0.9 * AFTER_S, after: AFTER_S };
  // samples of a slower rate stand for more time each: the sum over them, the spectrum, is to stay
  for (let n = 0; n < count; n++) samples[n] *= ratio * windowGain(window, (firstSample + n) / sampleRateHz - arrivalS);
  const wav = writeWav({ sampleRateHz, channels: [samples] }, { format: 'float32' });
  return makeRecording(wav, {
    role: 'impulse',
    label: `${parts.label}, impulse response`,
    about: parts.about,
    steps: [...parts.steps, { ...step, with: { ...step.with, stimulusAtSample: -firstSample } }],
  });
}
