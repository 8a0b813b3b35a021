import { choice, number, text } from '../fields';

/** 'curves': them alone, whatever was found. */
const KINDS = [
  ...['curves', 'bandFit', 'rollOff', 'ladder', 'roomFeatures', 'settingDifference', 'distortion'],
  ...['maximumOutput', 'captureQuality', 'conclusions'],
] as const;
const VIEWS = ['response', 'range', 'ladder', 'map', 'ceilings', 'distortion', 'harmonics', 'clean'] as const;

export const fields = {
  kind: choice(KINDS),
  view: choice(VIEWS),
  setting: text(),
  format: choice(['svg', 'png', 'html'], { otherwise: 'svg' }),
  widthPx: number({ min: 240, max: 4096, whole: true, otherwise: 900 }),
  heightPx: number({ min: 200, max: 4096, whole: true, otherwise: 520 }),
  theme: choice(['light', 'dark', 'paper'], { otherwise: 'light' }),
  title: text(),
  credit: text(),
};
