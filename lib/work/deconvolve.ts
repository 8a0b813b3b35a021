import type { DeconvolveOptions } from '../analysis/deconvolution/deconvolveCapture';
import type { Recording } from '../model/curve';
import type { Deconvolution } from '../model/findings';
import type { SweepSpec } from '../signal/sweepPlan';
import { runTask, type TaskOptions } from './runTask';
import { shareSound } from './shareSound';

/**
 * Read response, harmonics, impulse response and quality from a captured sweep, beside the event loop.
 *
 * @param capture the recording. @param stimulus what was played: its recording, or the sweep's spec.
 * @param options those of `deconvolveCapture`, and `onProgress` (told 0 to 1) and `signal` (an AbortSignal).
 * @returns what `deconvolveCapture` gives.
 * @throws BassloomError as `deconvolveCapture` does, and as `runTask` does; the signal's reason where it was aborted.
 *
 * Notes: of several captures at once, as many are worked on as there are worker threads (at most two). The recordings
 * are copied for the worker in slices of a third of a millisecond, and stay usable; a stimulus is copied once.
 *
 * @example
 * const { response, harmonics, quality } = await deconvolve(capture, makeSweep({ startHz: 5, endHz: 400, seconds: 20, sampleRateHz: 48000 }));
 */
export function deconvolve(
  capture: Recording,
  stimulus: Recording | SweepSpec,
  options: DeconvolveOptions & TaskOptions = {},
): Promise<Deconvolution> {
  const { onProgress, signal, ...rest } = options;
  // the captures of a ladder have one stimulus
  const played = 'wav' in stimulus ? shareSound(stimulus) : stimulus;
  return runTask('deconvolve', { capture, stimulus: played, options: rest }, { onProgress, signal });
}
