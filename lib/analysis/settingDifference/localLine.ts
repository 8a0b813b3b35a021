import type { DifferenceSamples } from './differenceSamples';
import { type DifferenceLine, restDb } from './fitShape';

/** Half width of the window, octaves. */
const HALF_WIDTH = 0.5;
/** Share of the samples, from the top down, that tell what the switch leaves alone. */
const QUIET_SHARE = 0.3;
/** A difference that changes by less than this over the lowest octave has come to rest, dB. */
const AT_REST_DB = 0.4;

/**
 * Follow a difference of any shape by local straight lines: weighted least squares over one octave, tricube weights.
 *
 * Reference: W. S. Cleveland, J. Amer. Statist. Assoc. 74 (1979) 829-836.
 */
export function localLine({ hz, differenceDb, sigma }: DifferenceSamples): DifferenceLine {
  const x = hz.map(Math.log2);
  const at = (where: number): number => {
    let [s0, s1, s2, t0, t1] = [0, 0, 0, 0, 0];
    for (let width = HALF_WIDTH; s0 === 0 || (s0 * s2 - s1 * s1 <= 1e-9 * s0 * s0 && width < 16); width *= 2) {
      [s0, s1, s2, t0, t1] = [0, 0, 0, 0, 0];
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
      if (width > 16) break;
    }
    const determinant = s0 * s2 - s1 * s1;
    return determinant > 1e-9 * s0 * s0 ? (t0 * s2 - t1 * s1) / determinant : t0 / s0;
  };
  const quiet = [...differenceDb.slice(-Math.ceil(QUIET_SHARE * x.length))].sort((a, b) => a - b);
  const offsetDb = quiet[quiet.length >> 1];
  const db = (f: number): number => at(Math.log2(f)) - offsetDb;
  const residuals = hz.map((f, i) => differenceDb[i] - offsetDb - db(f));
  const [low, octaveUp] = [db(hz[0]), db(hz[0] * 2)];
  const rests = x[x.length - 1] - x[0] > 2 && Math.abs(low - octaveUp) < AT_REST_DB;
  return {
    offsetDb,
    db,
    asymptoteDb: rests ? (low + octaveUp) / 2 : null,
    misfit: Number.NaN,
    restDb: restDb(hz, residuals, sigma),
  };
}
