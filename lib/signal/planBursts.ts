import { makeRefusal } from '../words/makeRefusal';
import { BURST_CYCLES } from './toneBurst';

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

/** What is taken where a spec leaves it out. */
export const BURST_DEFAULTS = {
  fromHz: 20,
  toHz: 160,
  lowestDbfs: -30,
  highestDbfs: -6,
  stepDb: 3,
  gapSeconds: 1,
} satisfies Omit<BurstSpec, 'sampleRateHz'>;

/** Longest sound that is made, in samples: 46 minutes at 48 kHz, 1 GB. */
const MOST_SAMPLES = 2 ** 27;

/** A schedule of bursts worked out to the sample. */
export interface BurstPlan {
  bursts: ScheduledBurst[];
  totalSamples: number;
}

/**
 * Work out when which burst comes: at each level, lowest first, all centres before any is played louder.
 *
 * @param spec centres (Hz), levels (dBFS), gap (s) and sample rate (Hz).
 * @throws BassloomError `burst-rate`, `burst-range`, `burst-level`, `burst-gap`, `burst-too-long`.
 *
 * Reference: centres by IEC 61260-1:2014, 5.4.
 *
 * @example
 * planBursts({ sampleRateHz: 48000 }).totalSamples / 48000 // 103.8 s
 */
export function planBursts(spec: BurstSpec): BurstPlan {
  const full = withDefaults(spec);
  check(full);
  const gap = Math.round(full.gapSeconds * full.sampleRateHz);
  const shapes = centresOf(full).map((centreHz) => ({
    centreHz,
    samples: Math.floor((BURST_CYCLES / centreHz) * full.sampleRateHz) + 1,
  }));
  const levels = countOf(full);
  const round = shapes.reduce((sum, { samples }) => sum + samples + gap, 0);
  const totalSamples = gap + levels * round;
  if (totalSamples > MOST_SAMPLES) {
    throw makeRefusal('burst-too-long', { bursts: levels * shapes.length }, { field: 'stepDb' });
  }
  const bursts: ScheduledBurst[] = [];
  let atSample = gap;
  for (let i = 0; i < levels; i++) {
    const levelDbfs = full.lowestDbfs + i * full.stepDb;
    for (const { centreHz, samples } of shapes) {
      bursts.push({ centreHz, levelDbfs, atSample, samples });
      atSample += samples + gap;
    }
  }
  return { bursts, totalSamples };
}

/** A spec with nothing left out. */
export function withDefaults(spec: BurstSpec): Required<BurstSpec> {
  const given = Object.entries(spec).filter(([, value]) => value !== undefined);
  return { ...BURST_DEFAULTS, ...(Object.fromEntries(given) as unknown as BurstSpec) };
}

function centresOf({ fromHz, toHz }: Required<BurstSpec>): number[] {
  const [first, last] = [fromHz, toHz].map((hz) => Math.round(10 * Math.log10(hz)));
  return Array.from({ length: last - first + 1 }, (_, i) => 10 ** ((first + i) / 10));
}

function countOf({ lowestDbfs, highestDbfs, stepDb }: Required<BurstSpec>): number {
  // a highest level that is met but for the last bit counts as met
  return Math.floor((highestDbfs - lowestDbfs) / stepDb + 1e-9) + 1;
}

function check(spec: Required<BurstSpec>): void {
  const { sampleRateHz, fromHz, toHz, lowestDbfs, highestDbfs, stepDb, gapSeconds } = spec;
  if (!(sampleRateHz >= 1 && Number.isInteger(sampleRateHz))) {
    throw makeRefusal('burst-rate', { rateHz: sampleRateHz }, { field: 'sampleRateHz' });
  }
  // the main lobe of the highest burst must end below half the sample rate
  if (!(fromHz >= 1 && toHz >= fromHz && toHz * 1.5 < sampleRateHz / 2)) {
    throw makeRefusal('burst-range', { fromHz, toHz }, { field: 'toHz' });
  }
  if (!(highestDbfs <= 0 && lowestDbfs <= highestDbfs && lowestDbfs > -200 && stepDb > 0)) {
    throw makeRefusal('burst-level', { lowestDbfs, highestDbfs, stepDb }, { field: 'highestDbfs' });
  }
  if (!(gapSeconds >= 0 && Number.isFinite(gapSeconds))) {
    throw makeRefusal('burst-gap', { seconds: gapSeconds }, { field: 'gapSeconds' });
  }
}
