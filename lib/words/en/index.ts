import { captures } from './captures';
import { curves } from './curves';
import { deconvolution } from './deconvolution';
import { importing } from './importing';
import { ladder } from './ladder';
import { missing } from './missing';
import { room } from './room';
import { settings } from './settings';
import { sound } from './sound';

/** English: every code with its sentence. Another language is another object of this type. */
export const en = {
  ...captures,
  ...curves,
  ...deconvolution,
  ...importing,
  ...ladder,
  ...missing,
  ...room,
  ...settings,
  ...sound,
};
