/** When the energy of one band arrives. */
export interface BandArrival {
  hz: number;
  /** Seconds after the stimulus was taken to arrive. */
  lateS: number;
  widthHz: number;
}

/** Delay that units and rooms may add from one frequency to e times that; more is another sweep, s. */
const MOST_SLOPE_S = 0.06;
/** Slopes are tried in these steps, s. */
const STEP_S = 0.005;
/** How well the arrival of a band can be told: in a time, and in its own resolution. */
const SIGMA_S = 0.02;
const SIGMA_PER_WIDTH = 0.25;
/** Further off is as good as anywhere, in standard deviations. */
const APART = 3;
const FEWEST_BANDS = 4;
/** Outside a narrower sweep's range its ends click in all bands: so many must lie on the line, and more than on a constant. */
const LEAST_SHARE = 0.55;
const MORE_BANDS = 3;
/** Share of the misfit of a constant that a line may leave. */
const LEAST_GAIN = 0.65;

/**
 * How much another exponential sweep's rate differs from the one it was divided by, from when its bands arrive.
 *
 * @param bands those that stand out of the noise. @param rateSeconds of the sweep that was divided by.
 * @returns the difference of the two L, s; undefined where the bands arrive as one, or as nothing that is a sweep.
 *
 * Notes: L' ln f - L ln f is a straight line over ln f. It is told from the delays of units and rooms, which seldom pass
 * 0.1 s and only in the lowest bands, by its slope and by how much better than a constant it explains the arrivals.
 */
export function otherRate(bands: readonly BandArrival[], rateSeconds: number): number | undefined {
  if (bands.length < FEWEST_BANDS) return undefined;
  const same = bestLine(bands, 0);
  // most captures: nothing that a line could better
  if (same.cost <= 2 * bands.length || same.on + MORE_BANDS > bands.length) return undefined;
  let best = { ...same, slopeS: 0 };
  const steps = Math.ceil((3 * rateSeconds) / STEP_S);
  for (let k = -steps; k <= steps; k++) {
    const line = bestLine(bands, k * STEP_S);
    if (line.cost < best.cost) best = { ...line, slopeS: k * STEP_S };
  }
  const isOther =
    Math.abs(best.slopeS) > MOST_SLOPE_S &&
    same.cost > 2 * bands.length &&
    best.cost < LEAST_GAIN * same.cost &&
    best.on >= Math.max(FEWEST_BANDS, LEAST_SHARE * bands.length, same.on + MORE_BANDS);
  return isOther ? best.slopeS : undefined;
}

/** The line of a slope through one of the bands that the others lie nearest to. */
function bestLine(bands: readonly BandArrival[], slopeS: number): { cost: number; on: number } {
  let best = { cost: Number.POSITIVE_INFINITY, on: 0 };
  const rests = bands.map(({ hz, lateS }) => lateS - slopeS * Math.log(hz));
  for (const through of rests) {
    let [cost, on] = [0, 0];
    bands.forEach(({ widthHz }, i) => {
      const off = Math.abs(rests[i] - through) / (SIGMA_S + SIGMA_PER_WIDTH / widthHz);
      cost += Math.min(off, APART) ** 2;
      if (off < APART) on++;
    });
    if (cost < best.cost) best = { cost, on };
  }
  return best;
}
