import { expect, test } from 'vitest';
import { isCalibratorName } from '../../lib/import/isCalibratorName';

test.each([
  ['calibrator.wav', true],
  ['unit A/Calibration_94 dB.wav', true],
  ['CALIBRATOR', true],
  ['C:\\session\\ calibrator 2.wav', true],
  ['calibrated_flat_step-3.wav', false],
  ['unit_calibrator.wav', false],
  ['calibrations of june/step-3.wav', false],
  ['', false],
])('a file called %j is of a calibrator: %s', (name, is) => {
  expect(isCalibratorName(name)).toBe(is);
});
