import { type BurstSpec, planBursts, type ScheduledBurst } from './planBursts';
import { toneBurst } from './toneBurst';

export type { BurstSpec, ScheduledBurst } from './planBursts';

/**
 * Tone bursts at third-octave centres, from the lowest level to the highest, as one sound.
 *
 * All centres are played at one level, lowest first, before any is played louder: so nothing comes that is louder than
 * what was heard already, and whoever hears trouble can stop in time.
 *
 * @param spec centres (Hz), levels (dBFS), gap (s) and sample rate (Hz).
 * @returns samples (full scale = 1), and where each burst begins.
 * @throws BassloomError `burst-rate`, `burst-range`, `burst-level`, `burst-gap`, `burst-too-long`.
 *
 * Caution: the loudest bursts are meant to drive a unit to its limit. Raise the volume from low, protect ears, stop at
 * any knock. The gap must outlast the room's decay, or one burst is measured on top of another.
 *
 * @example
 * const { samples, bursts } = burstSchedule({ sampleRateHz: 48000, fromHz: 20, toHz: 63 });
 * bursts[0] // { centreHz: 19.95..., levelDbfs: -30, atSample: 48000, samples: 15637 }
 */
export function burstSchedule(spec: BurstSpec): { samples: Float64Array; bursts: ScheduledBurst[] } {
  const { bursts, totalSamples } = planBursts(spec);
  const samples = new Float64Array(totalSamples);
  const shapes = new Map(bursts.map(({ centreHz }) => [centreHz, toneBurst(centreHz, spec.sampleRateHz)]));
  for (const { centreHz, levelDbfs, atSample } of bursts) {
    const amplitude = 10 ** (levelDbfs / 20);
    const shape = shapes.get(centreHz)!;
    for (let n = 0; n < shape.length; n++) samples[atSample + n] = amplitude * shape[n];
  }
  return { samples, bursts };
}
