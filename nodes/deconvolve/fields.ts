import { procedure } from '../configs';
import { choice, flag, number, text } from '../fields';
import { fields as sweep } from '../sweep/fields';

const { startHz, endHz, seconds, levelDbfs, sampleRateHz } = sweep;

export const fields = {
  procedure,
  source: choice(['message', 'file', 'sweep'], { otherwise: 'message' }),
  stimulusFile: text(),
  ...{ startHz, endHz, seconds, levelDbfs, sampleRateHz },
  harmonics: number({ min: 1, max: 9, whole: true, otherwise: 5 }),
  toHz: number({ above: 0, max: 100000 }),
  channel: number({ min: 1, max: 256, whole: true }),
  correctionFile: text(),
  fullScaleDb: number({ min: 0, max: 300, procedure: 'fullScaleDb' }),
  bad: choice(['mark', 'holdBack'], { otherwise: 'mark' }),
  impulses: flag(true),
};
