import type { Run } from '../bench';
import type { Equaliser } from '../rigSpec';
import { chainGains } from './chain';
import { toneThrough } from './distort';
import { excursionLevelDb } from './driverParts';
import { steadyGain } from './limitSound';
import { microphoneGain } from './microphoneGain';
import { roomPath } from './roomPath';
import { playLevelDb, runScatterOf } from './runFacts';
import type { SoundRigSpec } from './soundRigSpec';

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

const THD_TO_ORDER = 5;

/**
 * Reckon what a steady tone becomes, in closed form.
 *
 * @param frequencyHz of the tones, Hz, above 0. @param highestOrder of the harmonics, default 5.
 *
 * Notes: switch -> gain of the limiter -> excursion -> static curve -> radiation, path and microphone at n f. This is
 * what a slow sweep measures too, as long as its level changes little within the release of the limiter and the
 * ringing of room and filters; a limiter at work in a fast sweep, in bursts or programme lags behind. Above 2 kHz / n
 * the n-th harmonic is not played.
 */
export function toneTruth(parts: Parts, frequencyHz: number[], highestOrder = THD_TO_ORDER): ToneTruth {
  const { rig, run, equaliser, toneDbfs, fullScaleDb } = parts;
  const count = frequencyHz.length;
  const orders = Array.from({ length: Math.max(highestOrder, 1) }, (_, i) => i + 1);
  const all = orders.flatMap((order) => frequencyHz.map((hz) => order * hz));
  const gains = chainGains(rig, equaliser, all, roomPath(rig, all), runScatterOf(rig, run));
  const limitDb = rig.nonlinearity && excursionLevelDb(rig.unit.highPass, rig.nonlinearity.excursionAt20HzDb);
  const tones = frequencyHz.map((hz, i) => {
    const wantedDb = toneDbfs + playLevelDb(rig, run) + gains.equaliser[i].db;
    const held = rig.soundLimiter ? steadyGain(rig.soundLimiter, rig.unit, hz, wantedDb) : 1;
    const levelDb = wantedDb + 20 * Math.log10(held);
    const phase = gains.equaliser[i].deg + gains.after[i].deg;
    if (limitDb === undefined) return { held, phase, db: orders.map((n) => (n === 1 ? levelDb : -Infinity)) };
    const amplitude = 10 ** ((levelDb + gains.excursion[i].db - limitDb) / 20);
    const through = toneThrough(rig.nonlinearity!, amplitude, orders.length);
    const turned = through[0] < 0 ? 180 : 0;
    return {
      held,
      phase: phase + gains.excursion[i].deg + turned,
      db: through.map((value) => 20 * Math.log10(Math.abs(value)) + limitDb),
    };
  });
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
    phaseDeg: tones.map(({ phase }) => phase - 360 * Math.round(phase / 360)),
    limiterLossDb: tones.map(({ held }) => -20 * Math.log10(held)),
    harmonics,
    thdPercent: percent(harmonics.map(({ levelDb }) => levelDb)),
    thdCorrectedPercent: percent(harmonics.map(({ correctedDb }) => correctedDb)),
  };
}

/** Of the first harmonics, up to the fifth order. */
function percent(harmonicsDb: number[][]): number[] {
  const counted = harmonicsDb.slice(0, THD_TO_ORDER - 1);
  return (harmonicsDb[0] ?? []).map(
    (_, i) => 100 * Math.sqrt(counted.reduce((sum, db) => sum + 10 ** (db[i] / 10), 0)),
  );
}
