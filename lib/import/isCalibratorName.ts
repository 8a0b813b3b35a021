import { bareName } from './filePath';

/**
 * Whether a file is called like the recording of a sound calibrator: its name, path aside, begins with 'calibrator' or
 * 'calibration' in any case.
 *
 * @example
 * isCalibratorName('session 3/Calibrator 94 dB.wav') // true
 */
export function isCalibratorName(path: string): boolean {
  return /^calibrat(or|ion)(?![a-z])/i.test(bareName(path));
}
