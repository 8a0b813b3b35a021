import type { Recording } from '../model/curve';
import type { Run } from '../rig/bench';
import type { SoundFacts } from '../rig/sound/soundFacts';
import type { SoundRigSpec } from '../rig/sound/soundRigSpec';
import { runTask, type TaskOptions } from './runTask';

/**
 * Play a sound through a virtual rig and record it, beside the event loop.
 *
 * @param rig the bench. @param stimulus what is played. @param run setting, drive (dB), take.
 * @param options `signal` (an AbortSignal) and `onProgress`.
 * @returns the capture of `playRig`, and its truth as plain JSON.
 * @throws BassloomError as `playRig` does, and as `runTask` does; the signal's reason where it was aborted.
 *
 * @example
 * const { capture, facts } = await playThroughRig(demoSoundRig(), sweep, { setting: 'shelf-flat', driveDb: 6 });
 */
export function playThroughRig(
  rig: SoundRigSpec,
  stimulus: Recording,
  run: Run,
  options: TaskOptions = {},
): Promise<{ capture: Recording; facts: SoundFacts }> {
  return runTask('playRig', { rig, stimulus, run }, options);
}
