import { microphoneErrorDb } from '../microphoneError';
import type { MicrophoneSpec } from '../rigSpec';
import type { Gain } from '../unitResponse';
import type { SoundRigSpec } from './soundRigSpec';

/**
 * What the microphone does to level and phase.
 *
 * @param rig its `microphone` and `microphonePhase`. @param hz frequency, Hz.
 * @returns the level of `microphoneErrorDb`, with the phase that goes with it.
 *
 * Notes: ln|H| = A sin(v ln f + a) is the real part of C s^(jv) + C* s^(-jv) at s = jw, whose imaginary part, the
 * minimum phase, is A tanh(pi v / 2) cos(v ln f + a): a closed form.
 *
 * @example
 * microphoneGain({ microphone: { lowEndHz: 5, waves: [], correctionPointsPerOctave: 6 } }, 5) // { db: -3.01, deg: 45 }
 */
export function microphoneGain(rig: Pick<SoundRigSpec, 'microphone' | 'microphonePhase'>, hz: number): Gain {
  const { microphone } = rig;
  if (!microphone) return { db: 0, deg: 0 };
  const lowEnd = Math.atan2(microphone.lowEndHz, hz);
  const waves = rig.microphonePhase === 'zero' ? 0 : wavesPhase(microphone, hz);
  return { db: microphoneErrorDb(microphone, hz), deg: ((lowEnd + waves) * 180) / Math.PI };
}

function wavesPhase({ waves }: MicrophoneSpec, hz: number): number {
  return waves.reduce((sum, { db, octaves, phase }) => {
    const turns = (2 * Math.PI) / octaves;
    const steep = Math.tanh((Math.PI * turns) / (2 * Math.LN2));
    return sum + ((db * Math.LN10) / 20) * steep * Math.cos(turns * Math.log2(hz / 20) + phase);
  }, 0);
}
