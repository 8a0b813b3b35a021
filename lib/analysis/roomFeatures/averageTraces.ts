import { interpolate } from '../../model/interpolate';
import type { RoomTrace } from './roomTrace';

/** Scatter from run to run that no signal-to-noise ratio removes, dB: keeps one clean run from counting alone. */
const SCATTER_DB = 0.15;

/** Stands for a ratio that is not known to end anywhere. */
const CLEANEST_DB = 100;

const DB_PER_SPREAD = 10 / Math.LN10;

/**
 * Average runs of one unit in one setting and position, each weighted by how sure it is at each frequency.
 *
 * @param traces at least one.
 * @returns one trace on the densest grid among them.
 *
 * Notes: runs may differ in level, and by limiting smoothly over frequency: the difference to the cleanest run is first
 * taken out, as its weighted mean over an octave. Mean of levels in dB, since powers would let the noisiest count most.
 */
export function averageTraces(traces: RoomTrace[]): RoomTrace {
  if (traces.length === 1) return traces[0];
  const cleanest = traces.reduce((a, b) => (meanSpread(b) < meanSpread(a) ? b : a));
  const lowHz = Math.max(...traces.map((t) => t.frequencyHz[0]));
  const highHz = Math.min(...traces.map((t) => t.frequencyHz[t.frequencyHz.length - 1]));
  const base = cut(cleanest, lowHz, highHz);
  const count = base.octave.length;
  if (count < 5) return cleanest;
  const sum = new Float64Array(count);
  const weights = new Float64Array(count);
  const variance = new Float64Array(count);
  const snrDb = new Float64Array(count);
  const weight = new Float64Array(count);
  const away = new Float64Array(count);
  const shift = new Float64Array(count);
  for (const trace of traces) {
    const on = trace === cleanest ? base : regrid(trace, base);
    for (let i = 0; i < count; i++) {
      weight[i] = 1 / ((DB_PER_SPREAD * on.spread[i]) ** 2 + SCATTER_DB ** 2);
      away[i] = on.levelDb[i] - base.levelDb[i];
    }
    // nothing is away from itself
    octaveMean(base.octave, away, weight, shift);
    for (let i = 0; i < count; i++) {
      sum[i] += weight[i] * (away[i] - shift[i]);
      weights[i] += weight[i];
      variance[i] += (weight[i] * on.spread[i]) ** 2;
      snrDb[i] += weight[i] * Math.min(on.snrDb[i], CLEANEST_DB);
    }
  }
  return {
    ...base,
    levelDb: base.levelDb.map((level, i) => level + sum[i] / weights[i]),
    spread: variance.map((v, i) => Math.sqrt(v) / weights[i]),
    snrDb: snrDb.map((snr, i) => snr / weights[i]),
  };
}

function meanSpread({ spread }: RoomTrace): number {
  return spread.reduce((a, b) => a + Math.min(b, 1), 0) / spread.length;
}

/** The part of a trace inside a range. */
function cut(trace: RoomTrace, lowHz: number, highHz: number): RoomTrace {
  const { frequencyHz } = trace;
  let from = 0;
  while (frequencyHz[from] < lowHz) from++;
  let to = frequencyHz.length;
  while (to > from && frequencyHz[to - 1] > highHz) to--;
  const part = (column: Float64Array) => column.subarray(from, to);
  return {
    about: trace.about,
    frequencyHz: part(frequencyHz),
    octave: part(trace.octave),
    levelDb: part(trace.levelDb),
    spread: part(trace.spread),
    snrDb: part(trace.snrDb),
  };
}

function regrid(trace: RoomTrace, base: RoomTrace): RoomTrace {
  const { frequencyHz, octave } = base;
  if (frequencyHz.length === trace.frequencyHz.length && frequencyHz.every((hz, i) => hz === trace.frequencyHz[i])) {
    return trace;
  }
  const on = (column: Float64Array) => Float64Array.from(interpolate(trace.frequencyHz, column, frequencyHz));
  const snrDb = on(trace.snrDb.map((snr) => Math.min(snr, CLEANEST_DB)));
  return { about: trace.about, frequencyHz, octave, levelDb: on(trace.levelDb), spread: on(trace.spread), snrDb };
}

/** Weighted mean of a column over an octave around each point, into `means`; O(N). */
function octaveMean(octave: Float64Array, values: Float64Array, weight: Float64Array, means: Float64Array): void {
  let from = 0;
  let to = 0;
  let sum = 0;
  let weights = 0;
  for (let i = 0; i < octave.length; i++) {
    for (; to < octave.length && octave[to] <= octave[i] + 0.5; to++) {
      sum += weight[to] * values[to];
      weights += weight[to];
    }
    for (; octave[from] < octave[i] - 0.5; from++) {
      sum -= weight[from] * values[from];
      weights -= weight[from];
    }
    means[i] = sum / weights;
  }
}
