import type { Equaliser } from '../rigSpec';
import { equalise, type Gain, unitResponse } from '../unitResponse';
import { inRow } from './complex';
import { excursionGain, radiationGain } from './driverParts';
import { microphoneGain } from './microphoneGain';
import type { SoundRigSpec } from './soundRigSpec';

/** The linear parts of a rig, each at given frequencies: before the limiter, and after the excursion or the unit. */
export interface ChainGains {
  equaliser: Gain[];
  excursion: Gain[];
  /** From the excursion (with a nonlinearity) or from the unit's input (without) to the recorder. */
  after: Gain[];
}

/**
 * Reckon the linear parts of a rig.
 *
 * @param path gains between source and microphone at the same frequencies. @param scatterDb of this run, dB by Hz.
 */
export function chainGains(
  rig: SoundRigSpec,
  equaliser: Equaliser,
  frequencyHz: number[],
  path: Gain[],
  scatterDb: (hz: number) => number,
): ChainGains {
  const { unit } = rig;
  const driver = (hz: number) =>
    rig.nonlinearity ? radiationGain(unit, hz) : unitResponse(unit, { kind: 'flat' }, hz);
  return {
    equaliser: frequencyHz.map((hz) => equalise(equaliser, hz)),
    excursion: frequencyHz.map((hz) => excursionGain(unit, hz)),
    after: frequencyHz.map((hz, i) =>
      inRow(driver(hz), path[i], microphoneGain(rig, hz), { db: scatterDb(hz), deg: 0 }),
    ),
  };
}
