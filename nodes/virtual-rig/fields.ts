import { choice, flag, number, text } from '../fields';

/** What the dialog shows in grey. */
export const fields = {
  rig: choice(['demo', 'drawn'], { otherwise: 'demo' }),
  seed: number({ min: 0, max: 2 ** 31 - 1, whole: true, otherwise: 1 }),
  setting: text(),
  driveDb: number({ min: -60, max: 60 }),
  steps: number({ min: 1, max: 20, whole: true, otherwise: 10 }),
  stepDb: number({ above: 0, max: 20, otherwise: 3 }),
  takes: number({ min: 1, max: 5, whole: true, otherwise: 1 }),
  muted: flag(false),
  noise: flag(true),
  distortion: flag(true),
  limiter: flag(true),
  giveCorrection: flag(true),
  sampleRateHz: number({ min: 8000, max: 192000, whole: true }),
  inputGainDb: number({ min: -60, max: 80 }),
  humDb: number({ min: -200, max: 0 }),
  humHz: number({ above: 0, max: 1000, otherwise: 50 }),
  clockPpm: number({ min: -5000, max: 5000 }),
  startS: number({ min: -60, max: 600 }),
  truncateAfterS: number({ above: 0, max: 600 }),
};
