import { procedure } from '../configs';
import { choice, number, text } from '../fields';

export const fields = {
  procedure,
  source: choice(['recording', 'sensitivity', 'fullScale'], { otherwise: 'recording' }),
  calibratorFile: text(),
  toneDb: number({ above: 0, max: 200, otherwise: 94 }),
  toneHz: number({ above: 0, max: 100000, otherwise: 1000 }),
  channel: number({ min: 1, max: 256, whole: true }),
  sensitivityMvPerPa: number({ above: 0 }),
  fullScaleV: number({ above: 0 }),
  gainDb: number({ min: -200, max: 200, otherwise: 0 }),
  fullScaleDb: number({ min: 0, max: 300, procedure: 'fullScaleDb' }),
};
