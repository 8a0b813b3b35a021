import { procedure } from '../configs';
import { choice, number, text } from '../fields';
import { limits } from './limits';

export const fields = {
  procedure,
  stimulusFile: text(),
  limits: limits(),
  measuredAtM: number({ above: 0, max: 100 }),
  place: choice(['unknown', 'half space', 'free field', 'room'], { otherwise: 'unknown' }),
  fullScaleDb: number({ min: 0, max: 300, procedure: 'fullScaleDb' }),
  correctionFile: text(),
  channel: number({ min: 1, max: 256, whole: true }),
};
