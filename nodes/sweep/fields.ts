import { choice, flag, number, text } from '../fields';

/** What the dialog shows in grey. */
export const fields = {
  startHz: number({ above: 0, otherwise: 5 }),
  endHz: number({ above: 0, otherwise: 400 }),
  seconds: number({ above: 0, max: 600, otherwise: 20 }),
  levelDbfs: number({ min: -120, max: 0, otherwise: -15 }),
  sampleRateHz: number({ min: 8000, max: 384000, whole: true, otherwise: 48000 }),
  format: choice(['pcm16', 'pcm24', 'float32'], { otherwise: 'pcm24' }),
  muted: flag(true),
  file: text(),
};
