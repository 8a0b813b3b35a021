import { expect, test } from 'vitest';
import { isCorrectionName } from '../../lib';

test.each([
  'correction.txt',
  'Mic cal.txt',
  'mic_cal_90deg.txt',
  'miccal.frd',
  'lab/microphone-correction.csv',
  'MICROPHONE CALIBRATION 12.txt',
  'calibration 0deg.txt',
  'our mic corr.txt',
])('%s is of a microphone', (name) => expect(isCorrectionName(name)).toBe(true));

test.each([
  'corrected sub_flat_step-01.txt',
  'mic cal/unit_flat_step-01.txt',
  'dynamic calm_1.txt',
  'calibrator.txt',
  'cal_step-1.txt',
  '',
])('%s is of none', (name) => expect(isCorrectionName(name)).toBe(false));
