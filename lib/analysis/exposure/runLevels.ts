import type { Curve } from '../../model/curve';
import { levelOf, powersOf } from '../../model/decibel';
import { weightCurve } from '../../response/weightCurve';

/** How loud one run is, at the microphone. */
export interface RunLevels {
  label: string;
  /** Range that was heard, Hz. */
  rangeHz: [number, number];
  /** Mean over the sweep, dB re 20 uPa. */
  levelDba: number;
  levelDbc: number;
  /** At the loudest moment of the sweep. */
  loudestDba: number;
  loudestDbc: number;
}

/** Weighted levels of a run of an exponential sweep from its response in SPL: mean over its time, and the highest. */
export function runLevels(curve: Curve): RunLevels {
  const [a, c] = (['A', 'C'] as const).map((weighting) => weightCurve(curve, weighting).levelDb);
  const f = curve.frequencyHz;
  return {
    label: curve.label,
    rangeHz: [f[0], f[f.length - 1]],
    levelDba: meanOverTime(f, a),
    levelDbc: meanOverTime(f, c),
    loudestDba: a.reduce((most, level) => Math.max(most, level)),
    loudestDbc: c.reduce((most, level) => Math.max(most, level)),
  };
}

/** Mean power over log frequency, which is time in an exponential sweep; straight lines between the points. */
function meanOverTime(f: number[], levelDb: number[]): number {
  if (f.length === 1) return levelDb[0];
  const power = powersOf(levelDb);
  let sum = 0;
  for (let i = 1; i < f.length; i++) sum += 0.5 * (power[i] + power[i - 1]) * Math.log(f[i] / f[i - 1]);
  return levelOf(sum / Math.log(f[f.length - 1] / f[0]));
}
