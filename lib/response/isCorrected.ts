import type { Curve } from '../model/curve';
import { stepsOf } from '../model/step';

/** Whether the microphone's error was taken out of a curve. */
export function isCorrected(curve: Curve): boolean {
  return stepsOf(curve, 'microphone correction').length > 0;
}
