import { sweepInverse } from '../../../signal/sweepInverse';
import type { SweepPlan } from '../../../signal/sweepPlan';
import type { Grid } from '../grid';
import { gather } from './gather';

/** True sample rates over stated ones that are tried. Others leave the sweep whole, and `otherSpeed` finds them. */
const RATIOS = [0.5, 2];
/**
 * A rate is the true one where so much of the energy gathers within 20 ms, and so many times more than with the stated
 * one. Tuned on 60 captures of drawn rigs headed with twice their rate (0.25 and 1.5 or more), and 180 torn ones with the
 * right rate (0.15 and 1.45 at most with both).
 */
const LEAST_SHARE = 0.2;
const BETTER = 1.4;

/**
 * Tell a header that states half or twice the true sample rate, where a capture seems to hold only part of the sweep:
 * at twice the rate it is over in half the time.
 *
 * @param spectrum of the capture. @param grid of it, by the stated rate. @param plan of the sweep.
 * @returns by how much faster than given the sweep runs at the stated rate, percent; undefined where the stated rate
 * explains the capture as well as others do.
 */
export function otherHeader(spectrum: Float64Array, grid: Grid, plan: SweepPlan): number | undefined {
  const stated = gatheredShare(spectrum, grid, plan, 1);
  const ratio = RATIOS.find((one) => {
    const share = gatheredShare(spectrum, grid, plan, one);
    return share > LEAST_SHARE && share > BETTER * stated;
  });
  return ratio && 100 * (1 / ratio - 1);
}

/** Share of the energy that gathers at the best place, every frequency having one voice. */
function gatheredShare(spectrum: Float64Array, { binHz, rateHz }: Grid, plan: SweepPlan, ratio: number): number {
  const trueBinHz = ratio * binHz;
  const band = { from: 1.1 * plan.startHz, to: Math.min(0.95 * plan.endHz, 0.4 * ratio * rateHz) };
  const bins = spectrum.slice(0, 2 * Math.ceil(band.to / trueBinHz) + 2);
  const inverse = sweepInverse(
    plan,
    Float64Array.from({ length: bins.length / 2 }, (_, k) => k * trueBinHz),
  );
  for (let i = 0; i < bins.length; i += 2) {
    const [re, im] = [bins[i], bins[i + 1]];
    bins[i] = re * inverse[i] - im * inverse[i + 1];
    bins[i + 1] = re * inverse[i + 1] + im * inverse[i];
  }
  const { contrast, gatherS } = gather(bins, trueBinHz, band);
  return contrast * gatherS * trueBinHz;
}
