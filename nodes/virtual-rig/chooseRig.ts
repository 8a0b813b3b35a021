import type { RecorderSpec, SoundRigSpec } from '../../lib';
import type { Library } from '../define';
import type { Values } from '../fields';
import type { fields } from './fields';

type Settings = Values<typeof fields>;

/** The rig that the settings name, with the faults they add. */
export function chooseRig(lib: Library, settings: Settings): SoundRigSpec {
  const { noise, nonlinearity, soundLimiter, ...rest } =
    settings.rig === 'demo' ? lib.demoSoundRig() : lib.drawSoundRig(settings.seed);
  return {
    ...rest,
    ...(settings.noise && { noise }),
    ...(settings.distortion && { nonlinearity }),
    ...(settings.limiter && { soundLimiter }),
    recorder: { ...rest.recorder, ...faults(settings) },
  };
}

/** Mains hum has its multiples, here of falling level. */
const HUM_ORDERS = [1, 2, 3];

function faults(settings: Settings): RecorderSpec {
  const { humDb, humHz, ...said } = settings;
  const { sampleRateHz, inputGainDb, clockPpm, startS, truncateAfterS } = said;
  const given = { sampleRateHz, inputGainDb, clockPpm, startS, truncateAfterS };
  const hum = (order: number) => ({ frequencyHz: order * humHz, levelDb: humDb! - 20 * Math.log10(order) });
  return {
    ...Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined)),
    ...(humDb !== undefined && { hum: HUM_ORDERS.map(hum) }),
  };
}
