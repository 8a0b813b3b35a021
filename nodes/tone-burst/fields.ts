import { choice, number, text } from '../fields';

/** What the dialog shows in grey. */
export const fields = {
  fromHz: number({ min: 1, otherwise: 20 }),
  toHz: number({ min: 1, otherwise: 160 }),
  lowestDbfs: number({ min: -120, max: 0, otherwise: -30 }),
  highestDbfs: number({ min: -120, max: 0, otherwise: -6 }),
  stepDb: number({ min: 0.1, max: 60, otherwise: 3 }),
  gapSeconds: number({ min: 0, max: 60, otherwise: 1 }),
  sampleRateHz: number({ min: 8000, max: 384000, whole: true, otherwise: 48000 }),
  format: choice(['pcm16', 'pcm24', 'float32'], { otherwise: 'pcm24' }),
  file: text(),
};
