import { DEFAULT_DECAY_S } from '../../room/room';
import { nextFastLength } from '../../signal/fourier';
import type { Grid } from './filterBank';
import type { SoundRigSpec } from './soundRigSpec';

/** Harmonics of a subwoofer's band lie below; the rest costs time. */
const BAND_HZ = 2000;
const TOP_HZ = 2400;
const LOWEST_RATE_HZ = 8000;
/** Long enough for the lowest corner of a microphone, 1 Hz, to ring out by 100 dB. */
const SHORTEST_RINGING_S = 2;

/** The rate at which a rig works for a stimulus of some rate, and the grid of its filters. */
export function playGrid(rig: Pick<SoundRigSpec, 'room'>, stimulusRateHz: number): Grid & { factor: number } {
  const factor = Math.max(1, Math.floor(stimulusRateHz / LOWEST_RATE_HZ));
  const rateHz = stimulusRateHz / factor;
  const bandHz = Math.min(BAND_HZ, 0.4 * rateHz);
  const topHz = Math.min(TOP_HZ, 0.47 * rateHz);
  const decayS = rig.room ? (rig.room.decayS ?? DEFAULT_DECAY_S) : 0;
  const ringingS = Math.max(SHORTEST_RINGING_S, 1.5 * decayS);
  return { rateHz, factor, bandHz, topHz, length: nextFastLength(ringingS * rateHz) };
}
