import { BassloomError } from '../model/errors';
import { toneBurst } from './toneBurst';

/** What bursts are played, at which levels. */
export interface BurstSpec {
  sampleRateHz: number;
  /** Lowest and highest third-octave centre, Hz; the nearest base-10 centres are taken. 20 and 160 where left out. */
  fromHz?: number;
  toHz?: number;
  /** dB re a full-scale sine; -30, -6 and 3 where left out. The highest is reached only if the steps meet it. */
  lowestDbfs?: number;
  highestDbfs?: number;
  stepDb?: number;
  /** Silence before the first and after each burst, s; 1 where left out. */
  gapSeconds?: number;
}

/** One burst of a schedule. */
export interface ScheduledBurst {
  centreHz: number;
  levelDbfs: number;
  /** Position of its first sample. */
  atSample: number;
  samples: number;
}

/** Longest sound that is made, in samples: 46 minutes at 48 kHz, 1 GB. */
const MOST_SAMPLES = 2 ** 27;

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
 * Reference: centres by IEC 61260-1:2014, 5.4.
 *
 * @example
 * const { samples, bursts } = burstSchedule({ sampleRateHz: 48000, fromHz: 20, toHz: 63 });
 * bursts[0] // { centreHz: 19.95..., levelDbfs: -30, atSample: 48000, samples: 15637 }
 */
export function burstSchedule(spec: BurstSpec): { samples: Float64Array; bursts: ScheduledBurst[] } {
  const full = { fromHz: 20, toHz: 160, lowestDbfs: -30, highestDbfs: -6, stepDb: 3, gapSeconds: 1, ...spec };
  check(full);
  const gap = Math.round(full.gapSeconds * full.sampleRateHz);
  const shapes = centresOf(full).map((centreHz) => ({ centreHz, shape: toneBurst(centreHz, full.sampleRateHz) }));
  const levels = levelsOf(full);
  const round = shapes.reduce((sum, { shape }) => sum + shape.length + gap, 0);
  const length = gap + levels.length * round;
  if (length > MOST_SAMPLES) refuse('too-long', 'stepDb', `${levels.length * shapes.length} bursts are too long`);
  const samples = new Float64Array(length);
  const bursts: ScheduledBurst[] = [];
  let atSample = gap;
  for (const levelDbfs of levels) {
    const amplitude = 10 ** (levelDbfs / 20);
    for (const { centreHz, shape } of shapes) {
      for (let n = 0; n < shape.length; n++) samples[atSample + n] = amplitude * shape[n];
      bursts.push({ centreHz, levelDbfs, atSample, samples: shape.length });
      atSample += shape.length + gap;
    }
  }
  return { samples, bursts };
}

function centresOf({ fromHz, toHz }: Required<BurstSpec>): number[] {
  const [first, last] = [fromHz, toHz].map((hz) => Math.round(10 * Math.log10(hz)));
  return Array.from({ length: last - first + 1 }, (_, i) => 10 ** ((first + i) / 10));
}

function levelsOf({ lowestDbfs, highestDbfs, stepDb }: Required<BurstSpec>): number[] {
  // a highest level that is met but for the last bit counts as met
  const steps = Math.floor((highestDbfs - lowestDbfs) / stepDb + 1e-9);
  return Array.from({ length: steps + 1 }, (_, i) => lowestDbfs + i * stepDb);
}

function check(spec: Required<BurstSpec>): void {
  const { sampleRateHz, fromHz, toHz, lowestDbfs, highestDbfs, stepDb, gapSeconds } = spec;
  if (!(sampleRateHz >= 1 && Number.isInteger(sampleRateHz))) {
    refuse('rate', 'sampleRateHz', `the sample rate is ${sampleRateHz}, not whole Hz`);
  }
  // the main lobe of the highest burst must end below half the sample rate
  if (!(fromHz >= 1 && toHz >= fromHz && toHz * 1.5 < sampleRateHz / 2)) {
    refuse('range', 'toHz', `${fromHz} to ${toHz} Hz does not rise from 1 Hz or more to a third of the sample rate`);
  }
  if (!(highestDbfs <= 0 && lowestDbfs <= highestDbfs && lowestDbfs > -200 && stepDb > 0)) {
    refuse(
      'level',
      'highestDbfs',
      `${lowestDbfs} to ${highestDbfs} dBFS in steps of ${stepDb} dB does not rise to 0 or less`,
    );
  }
  if (!(gapSeconds >= 0 && Number.isFinite(gapSeconds))) refuse('gap', 'gapSeconds', `the gap is ${gapSeconds} s`);
}

function refuse(code: string, field: string, why: string): never {
  throw new BassloomError(`burst-${code}`, `Cannot make these bursts: ${why}; change ${field}.`, { field });
}
