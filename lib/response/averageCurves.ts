import type { Curve } from '../model/curve';
import { levelOf, powerMeanDb, powerOf } from '../model/decibel';
import { interpolate } from '../model/interpolate';
import { makeCurve } from '../model/makeCurve';
import { makeRefusal } from '../words/makeRefusal';
import { sharedMarks } from './captureWarnings';
import { commonGrid } from './commonGrid';
import { isCorrected } from './isCorrected';
import { sharedAbout, sharedSteps } from './sharedAbout';
import { unwrap } from './unwrap';

export interface AverageOptions {
  /** 'power': mean of powers (default). 'decibel': mean of levels. 'vector': mean of sound pressures with their phase. */
  method?: 'power' | 'decibel' | 'vector';
}

/**
 * Average curves into one.
 *
 * The frequencies are those of the first curve inside the range of all; the others are read there on straight lines
 * over log frequency.
 *
 * @param curves at least one, all of one scale and role; harmonics of one order. @param options.method default 'power'.
 * @returns a new curve; its noise is the power mean of the noises where every curve has one ('vector': divided by the
 * number of curves, since noise does not add up in phase). Phase is kept by 'vector' only.
 * @throws BassloomError `no-curves`, `no-common-range`, `mixed-curves`, `no-phase`, `bad-method`.
 *
 * Harmonics are ratios to their fundamentals, and that is what is averaged: each run counts alike, however loud it was.
 * Bad and doubtful captures among the runs are kept in the step as `captures`.
 * 'vector' needs runs that start at the same instant: a difference in delay cancels high frequencies.
 *
 * @example
 * averageCurves([makeCurve({ frequencyHz: [20, 40], levelDb: [80, 80] }), makeCurve({ frequencyHz: [20, 40], levelDb: [86, 80] })])
 */
export function averageCurves(curves: Curve[], options: AverageOptions = {}): Curve {
  const { method = 'power' } = options;
  checkCurves(curves, method);
  const frequencyHz = commonGrid(curves);
  const levels = curves.map((curve) => interpolate(curve.frequencyHz, curve.levelDb, frequencyHz));
  const noises = curves.map(({ frequencyHz: f, noiseDb }) => noiseDb && interpolate(f, noiseDb, frequencyHz));
  const gain = method === 'vector' ? levelOf(1 / curves.length) : 0;
  return makeCurve({
    role: curves[0].role,
    ...(curves[0].order !== undefined && { order: curves[0].order }),
    scale: curves[0].scale,
    label: `average of ${curves.length}: ${curves.map(({ label }) => label).join(', ')}`,
    frequencyHz,
    ...(method === 'vector' ? vectorMean(curves, levels, frequencyHz) : { levelDb: levelMean(levels, method) }),
    ...(noises.every((noise) => noise !== undefined) && {
      noiseDb: levelMean(noises, 'power').map((noise) => noise + gain),
    }),
    about: sharedAbout(curves),
    steps: [
      ...sharedSteps(curves),
      { did: 'average', with: { method, curves: curves.map(({ id }) => id), ...sharedMarks(curves) } },
    ],
  });
}

function levelMean(columns: number[][], method: 'power' | 'decibel'): number[] {
  return columns[0].map((_, i) => {
    const levels = columns.map((column) => column[i]);
    return method === 'power' ? powerMeanDb(levels) : levels.reduce((sum, level) => sum + level, 0) / levels.length;
  });
}

function vectorMean(curves: Curve[], levels: number[][], frequencyHz: number[]) {
  const phases = curves.map((curve) => interpolate(curve.frequencyHz, unwrap(curve.phaseDeg!), frequencyHz));
  const levelDb: number[] = [];
  const phaseDeg: number[] = [];
  for (let i = 0; i < frequencyHz.length; i++) {
    let real = 0;
    let imaginary = 0;
    for (let n = 0; n < curves.length; n++) {
      const pressure = Math.sqrt(powerOf(levels[n][i])) / curves.length;
      const angle = (phases[n][i] * Math.PI) / 180;
      real += pressure * Math.cos(angle);
      imaginary += pressure * Math.sin(angle);
    }
    // What cancels to the last bit would have no level; 1e-300 keeps it a number.
    levelDb.push(levelOf(Math.max(real * real + imaginary * imaginary, 1e-300)));
    phaseDeg.push((Math.atan2(imaginary, real) * 180) / Math.PI);
  }
  return { levelDb, phaseDeg };
}

function checkCurves(curves: Curve[], method: string): void {
  if (curves.length === 0) throw makeRefusal('no-curves', { to: 'average' });
  if (!['power', 'decibel', 'vector'].includes(method)) {
    throw makeRefusal('bad-method', { method }, { field: 'method' });
  }
  const [first] = curves;
  for (const curve of curves) {
    const same = (what: (c: Curve) => unknown) => what(curve) === what(first);
    const differs =
      (!same((c) => c.scale) && 'scale') ||
      (!same((c) => c.role) && 'role') ||
      (!same((c) => c.order) && 'order') ||
      (!same(isCorrected) && 'microphone correction');
    if (differs) {
      const values = { a: first.label, b: curve.label, differ: differs, to: 'average' } as const;
      throw makeRefusal('mixed-curves', values, { field: differs });
    }
    if (method === 'vector' && !curve.phaseDeg) {
      throw makeRefusal('no-phase', { label: curve.label }, { field: 'phaseDeg' });
    }
  }
}
