import type { DifferenceLine } from './differenceLine';
import type { DifferenceSamples } from './differenceSamples';
import { restDb } from './windowRests';

/** Half width of the window, octaves: the narrowest, and the widest that noise may ask for. */
const NARROWEST = 1 / 6;
const WIDEST = 1 / 2;
/** How closely a value is wanted, dB (standard deviation). */
const WANTED_DB = 0.1;
/** A difference that changes by less than this over the lowest octave has come to rest, dB. */
const AT_REST_DB = 0.4;

/**
 * Follow a difference of any shape by local straight lines: weighted least squares, tricube weights, over 1/3 octave
 * where the samples are good, up to an octave where they scatter.
 *
 * Reference: W. S. Cleveland, J. Amer. Statist. Assoc. 74 (1979) 829-836.
 */
export function localLine(samples: DifferenceSamples): DifferenceLine {
  const { hz, sigma } = samples;
  const x = hz.map(Math.log2);
  const isWideEnough = (where: number, width: number): boolean => {
    let [count, weights] = [0, 0];
    x.forEach((one, i) => {
      if (Math.abs(one - where) > 0.9 * width) return;
      count++;
      weights += 1 / sigma[i] ** 2;
    });
    return count >= 3 && (width >= WIDEST || weights > 1 / WANTED_DB ** 2);
  };
  const at = (where: number): number => {
    let width = NARROWEST;
    while (width < 16 && !isWideEnough(where, width)) width *= 1.25;
    return lineAt(x, samples, where, width);
  };
  const measured = (f: number) => at(Math.log2(Math.min(Math.max(f, hz[0]), hz[hz.length - 1])));
  const offsetDb = quietLevel(samples);
  const db = (f: number): number => measured(f) - offsetDb;
  const [low, octaveUp] = [db(hz[0]), db(hz[0] * 2)];
  const rests = x[x.length - 1] - x[0] > 2 && Math.abs(low - octaveUp) < AT_REST_DB;
  return {
    kind: 'any',
    offsetDb,
    db,
    asymptoteDb: rests ? (low + octaveUp) / 2 : null,
    agreed: false,
    restDb: restDb(samples, measured),
  };
}

function lineAt(x: number[], { differenceDb, sigma }: DifferenceSamples, where: number, width: number): number {
  let [s0, s1, s2, t0, t1] = [0, 0, 0, 0, 0];
  for (let i = 0; i < x.length; i++) {
    const d = x[i] - where;
    if (Math.abs(d) >= width) continue;
    const weight = (1 - Math.abs(d / width) ** 3) ** 3 / sigma[i] ** 2;
    s0 += weight;
    s1 += weight * d;
    s2 += weight * d * d;
    t0 += weight * differenceDb[i];
    t1 += weight * d * differenceDb[i];
  }
  const determinant = s0 * s2 - s1 * s1;
  return determinant > 1e-9 * s0 * s0 ? (t0 * s2 - t1 * s1) / determinant : t0 / s0;
}

/** Median of the flattest octave in the upper half of the range: what the switch leaves alone. */
function quietLevel({ hz, differenceDb }: DifferenceSamples): number {
  const middle = Math.sqrt(hz[0] * hz[hz.length - 1]);
  let best = { spread: Number.POSITIVE_INFINITY, level: 0 };
  for (let i = hz.length - 1; i >= 0; i--) {
    const low = hz[i] / 2;
    if (low < middle && best.spread < Number.POSITIVE_INFINITY) break;
    const octave = differenceDb.filter((_, k) => hz[k] >= low && hz[k] <= hz[i]).sort((one, other) => one - other);
    const spread = octave[octave.length - 1] - octave[0];
    // the topmost of equally flat ones
    if (spread < best.spread - 0.05) best = { spread, level: octave[octave.length >> 1] };
  }
  return best.level;
}
