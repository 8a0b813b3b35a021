import type { Recording } from '../model/curve';
import { BassloomError } from '../model/errors';
import { stepsOf } from '../model/step';
import { decodeWav } from '../wav/decodeWav';
import { recogniseBursts } from './recogniseBursts';

/**
 * Whether a stimulus is a schedule of bursts: by its step, or else by its samples.
 *
 * @example
 * isBursts(makeBursts({ sampleRateHz: 48000 })) // true
 */
export function isBursts(stimulus: Recording): boolean {
  if (stepsOf(stimulus, 'make bursts').length > 0) return true;
  try {
    return recogniseBursts(decodeWav(stimulus).channels[0], stimulus.sampleRateHz).length > 0;
  } catch (problem) {
    if (problem instanceof BassloomError) return false;
    throw problem;
  }
}
