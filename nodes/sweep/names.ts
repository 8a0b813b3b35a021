import type { SweepSpec } from '../../lib';
import { isWavPath } from '../writeSound';

/** Name of a sweep's file that tells it from every other; the import node knows files called `stimulus…` as stimuli. */
export function nameOf(spec: SweepSpec, format: string, what: 'sweep' | 'muted' = 'sweep'): string {
  const { startHz, endHz, seconds, levelDbfs, sampleRateHz } = spec;
  const level = what === 'sweep' ? [`${levelDbfs}dBFS`] : [];
  return [`stimulus-${what}`, `${startHz}-${endHz}Hz`, `${seconds}s`, ...level, `${sampleRateHz}Hz`, format].join('_');
}

/** Where the muted twin of a sweep goes: beside it. */
export function mutedFile(path: string): string {
  return isWavPath(path) ? path.replace(/(\.wav)$/i, '-muted$1') : path;
}
