import { analyses } from './analyses';
import { calibration } from './calibration';
import { captures } from './captures';
import { common } from './common';
import { curves } from './curves';
import { rig } from './rig';
import { room } from './room';
import { signal } from './signal';
import { sweeps } from './sweeps';
import { texts } from './texts';
import { wav } from './wav';

/** English: every refusal with its sentences. */
export const refusals = {
  ...{ ...analyses, ...calibration, ...captures, ...common, ...curves },
  ...{ ...rig, ...room, ...signal, ...sweeps, ...texts, ...wav },
};
