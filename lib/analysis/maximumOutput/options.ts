import type { Curve } from '../../model/curve';
import type { OutputAssumption } from '../../model/findings';
import type { HarmonicLimit } from './limits';

export interface MaximumOutputOptions {
  /** Largest level of each harmonic, dB re the fundamental; `HARMONIC_LIMITS` where left out. */
  limits?: readonly HarmonicLimit[];
  /** dB SPL of a sine whose peak is digital full scale in the capture; levels are relative where left out. */
  fullScaleDb?: number;
  /** Distance of the microphone, m; that of the capture's `about.distanceM` where left out. */
  measuredAtM?: number;
  /**
   * Where it was measured; 'unknown' where left out. Levels are brought to 1 m and 2 m in a 'free field' or a 'half
   * space' only: in a room they include the room, and stay levels at the microphone.
   */
  place?: OutputAssumption['place'];
  /** Response of the microphone, dB. */
  correction?: Curve;
  /** Channel of the captures, the first being 1, which is taken where left out. */
  channel?: number;
}
