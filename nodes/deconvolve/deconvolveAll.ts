import type { Caveat } from '../../lib/model/caveat';
import type { Recording } from '../../lib/model/curve';
import { BassloomError } from '../../lib/model/errors';
import type { CaptureQuality, Deconvolution } from '../../lib/model/findings';
import { type Work, withCause } from '../define';
import { readCorrection } from '../readCorrection';
import type { Bench, Stimulus } from './bench';
import type { fields } from './fields';
import { noiseOf } from './sortOut';

export interface Results {
  found: Deconvolution[];
  refused: number;
  notes: Caveat[];
}

/**
 * Deconvolve the captures of a message in the worker pool, as many at once as it has threads.
 *
 * @throws what a single capture is refused with; of several, each bad one reaches Catch and the others go on.
 */
export async function deconvolveAll(
  { lib, RED, node, settings, message, memory, signal }: Work<typeof fields, Bench>,
  captures: Recording[],
  noise: Recording[],
  stimulus: Stimulus,
): Promise<Results> {
  const { harmonics, fullScaleDb, toHz, channel } = settings;
  const { correction, notes } = await readCorrection({ lib, RED, settings, message });
  const outcomes = await Promise.allSettled(
    captures.map((capture) => {
      const { onProgress, end } = memory.begin();
      const options = { harmonics, fullScaleDb, toHz, channel, correction, noise: noiseOf(capture, noise) };
      return lib.deconvolve(capture, stimulus, { ...options, onProgress, signal }).finally(end);
    }),
  );
  signal.throwIfAborted();
  const found: Deconvolution[] = [];
  for (const [i, outcome] of outcomes.entries()) {
    if (outcome.status === 'fulfilled') found.push(outcome.value);
    else if (captures.length === 1) throw outcome.reason;
    else node.error(withCause(outcome.reason), { ...message, payload: [captures[i]], filename: captures[i].label });
  }
  return { found: lib.compareNeighbours(lib.judgeRepeats(found)), refused: captures.length - found.length, notes };
}

/** Why a capture is held back. */
export function holdBack({ label, warnings }: CaptureQuality): BassloomError {
  return new BassloomError(
    'bad-capture',
    `${label} is held back. ${warnings.map(({ message }) => message).join(' ')}`,
    { field: 'payload' },
  );
}
