import type { SweepSpec } from '../../signal/sweepPlan';
import type { Run } from '../bench';
import type { Equaliser } from '../rigSpec';
import { type ChainGains, chainGains } from './chain';
import { toneThrough } from './distort';
import { excursionLevelDb } from './driverParts';
import { gainAt, steadyLosses } from './limitSound';
import { microphoneGain } from './microphoneGain';
import { roomPath } from './roomPath';
import { playLevelDb, runScatterOf } from './runFacts';
import type { SoundRigSpec } from './soundRigSpec';
import { sweptLosses } from './sweptLosses';

/** Steady tones at the microphone, without noise and before anything clips; columns over the frequency of the tone. */
export interface ToneTruth {
  frequencyHz: number[];
  /** Level of the fundamental as recorded, dB re a full-scale sine in the file. */
  levelDbfs: number[];
  /** The same, dB re 20 uPa, with the microphone's error taken out. */
  splDb: number[];
  /** As recorded, degrees, with the time of flight but without latency and start; -180 to 180. */
  phaseDeg: number[];
  /** What the limiter takes away, dB. */
  limiterLossDb: number[];
  /** Of order 2 and up, dB re the fundamental: as recorded, and with the microphone's error taken out. */
  harmonics: { order: number; levelDb: number[]; correctedDb: number[] }[];
  /** Root of the summed power of the orders 2 to 5 over the fundamental, %: as recorded, and corrected. */
  thdPercent: number[];
  thdCorrectedPercent: number[];
}

interface Parts {
  rig: SoundRigSpec;
  run: Run;
  equaliser: Equaliser;
  toneDbfs: number;
  fullScaleDb: number;
}

export interface ToneOptions {
  /** Of the harmonics, default 5. */
  highestOrder?: number;
  /** The tone as this sweep passes it: the limiter lags behind. */
  sweep?: SweepSpec;
}

const THD_TO_ORDER = 5;

/**
 * Reckon what a steady tone becomes, in closed form.
 *
 * @param frequencyHz of the tones, Hz, above 0.
 *
 * Notes: switch -> gain of the limiter -> excursion -> static curve -> radiation, path and microphone at n f. A slow
 * sweep measures the same. Where a limiter is at work it lags behind any sweep (by up to 1 dB in one of 20 s, with a
 * release of 0.25 s): give the sweep for what is then true. Bursts and programme do not let it settle at all. Above
 * 2 kHz / n the n-th harmonic is not played.
 */
export function toneTruth(
  parts: Parts,
  frequencyHz: number[],
  { highestOrder = THD_TO_ORDER, sweep }: ToneOptions = {},
): ToneTruth {
  const { rig, run, equaliser, fullScaleDb } = parts;
  const count = frequencyHz.length;
  const orders = Array.from({ length: Math.max(highestOrder, 1) }, (_, i) => i + 1);
  const all = orders.flatMap((order) => frequencyHz.map((hz) => order * hz));
  const gains = chainGains(rig, equaliser, all, roomPath(rig, all), runScatterOf(rig, run));
  const tones = radiated(parts, frequencyHz, gains, orders.length, sweep);
  const recordedDb = (order: number, i: number) => tones[i].db[order - 1] + gains.after[(order - 1) * count + i].db;
  const errorDb = (order: number, i: number) => microphoneGain(rig, order * frequencyHz[i]).db;
  const harmonics = orders.slice(1).map((order) => ({
    order,
    levelDb: frequencyHz.map((_, i) => recordedDb(order, i) - recordedDb(1, i)),
    correctedDb: frequencyHz.map((_, i) => recordedDb(order, i) - errorDb(order, i) - recordedDb(1, i) + errorDb(1, i)),
  }));
  return {
    frequencyHz,
    levelDbfs: frequencyHz.map((_, i) => recordedDb(1, i) - fullScaleDb),
    splDb: frequencyHz.map((_, i) => recordedDb(1, i) - errorDb(1, i)),
    phaseDeg: tones.map(({ deg }, i) => wrapped(deg + gains.after[i].deg)),
    limiterLossDb: tones.map(({ held }) => -20 * Math.log10(held)),
    harmonics,
    thdPercent: percent(harmonics.map(({ levelDb }) => levelDb)),
    thdCorrectedPercent: percent(harmonics.map(({ correctedDb }) => correctedDb)),
  };
}

/** What each tone is ahead of the gains `after`: the limiter's gain, phase of the fundamental, levels by order. */
function radiated(
  { rig, run, equaliser, toneDbfs }: Parts,
  frequencyHz: number[],
  gains: ChainGains,
  orders: number,
  sweep: SweepSpec | undefined,
): { held: number; deg: number; db: number[] }[] {
  const { soundLimiter, nonlinearity, unit } = rig;
  const playedDb = toneDbfs + playLevelDb(rig, run);
  const lagging = soundLimiter && sweep && sweptLosses(rig, equaliser, playedDb, sweep);
  const limitDb = nonlinearity && excursionLevelDb(unit.highPass, nonlinearity.excursionAt20HzDb);
  const none = Array.from({ length: orders - 1 }, () => Number.NEGATIVE_INFINITY);
  return frequencyHz.map((hz, i) => {
    const { db, deg } = gains.equaliser[i];
    const losses = lagging ? lagging(hz) : soundLimiter && steadyLosses(soundLimiter, unit, hz, playedDb + db);
    const held = soundLimiter && losses ? gainAt(soundLimiter, hz, losses) : 1;
    const levelDb = playedDb + db + 20 * Math.log10(held);
    if (limitDb === undefined) return { held, deg, db: [levelDb, ...none] };
    const excursion = gains.excursion[i];
    const through = toneThrough(nonlinearity!, 10 ** ((levelDb + excursion.db - limitDb) / 20), orders);
    const turned = through[0] < 0 ? 180 : 0;
    return {
      held,
      deg: deg + excursion.deg + turned,
      db: through.map((value) => 20 * Math.log10(Math.abs(value)) + limitDb),
    };
  });
}

function wrapped(deg: number): number {
  return deg - 360 * Math.round(deg / 360);
}

/** Of the first harmonics, up to the fifth order. */
function percent(harmonicsDb: number[][]): number[] {
  const counted = harmonicsDb.slice(0, THD_TO_ORDER - 1);
  return (harmonicsDb[0] ?? []).map(
    (_, i) => 100 * Math.sqrt(counted.reduce((sum, db) => sum + 10 ** (db[i] / 10), 0)),
  );
}
