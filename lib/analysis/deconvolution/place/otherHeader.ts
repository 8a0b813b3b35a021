import { sweepInverse } from '../../../signal/sweepInverse';
import type { SweepPlan } from '../../../signal/sweepPlan';
import type { Grid } from '../grid';
import { gather, type Span } from './gather';

/** Rates that recorders and players commonly have, Hz; common practice, no source. */
const STANDARD_HZ = [
  ...[8000, 11_025, 12_000, 16_000, 22_050, 24_000, 32_000, 44_100, 48_000],
  ...[64_000, 88_200, 96_000, 176_400, 192_000],
];

interface Bounds {
  /** Which true sample rates over the stated one are tried. */
  ratios: [least: number, most: number];
  /** Energy is gathered over that time. */
  span: Span;
  /** A rate is the true one where so much of the energy gathers with it, and so many times more than with the stated one. */
  share: number;
  better: number;
}

/**
 * Of a capture that holds the whole sweep: rates further off leave nothing that gathers. Reverberant rooms may gather 1.6
 * times as much with a wrong rate, so the onsets of bands must bear it out.
 */
const WHOLE: Bounds = { ratios: [0.8, 1.25], span: { s: 0.005, periods: 1 }, share: 0.03, better: 1.1 };
/**
 * Onsets slope by so much of what the other rate would make of them. Tuned on 120 captures of drawn rigs, mirror rooms and
 * echoes, sweeps of 1 to 5 s: with the right rate -0.3 to 0.3, with 44.1 and 48 kHz exchanged 0.5 to 1.5.
 */
const SLOPE = [0.5, 1.6];
/**
 * Of one that seems to hold a part, headed with more than its rate. Tuned on sweeps of 1 to 8 s in a room of forty echoes:
 * headed with 3, 6 and 12 times their rate 0.10 and 1.5 or more; torn ones with the right rate 0.06 and 2.3 at most, not
 * both.
 */
const TORN: Bounds = { ratios: [0.08, 0.95], span: { s: 0.005, periods: 1 }, share: 0.08, better: 1.4 };

/**
 * Tell a header that states another sample rate than the true one, where the true one is a common rate.
 *
 * @param spectrum of the capture. @param grid of it, by the stated rate. @param plan of the sweep.
 * @param statedHz the rate of the header.
 * @param slopeS how much later the bands of a whole sweep begin from one frequency to e times that, s; 'torn' where the
 * capture seems to hold only part of the sweep: at twice the rate it is over in half the time.
 * @returns by how much faster than given the sweep runs at the stated rate, percent; undefined where the stated rate
 * explains the capture as well as others do.
 *
 * Notes: only with its own rate does a sweep gather at one time. For sweeps of a second or two neither that nor the onsets
 * of bands would do alone, both together do.
 */
export function otherHeader(
  spectrum: Float64Array,
  grid: Grid,
  plan: SweepPlan,
  statedHz: number,
  slopeS: number | 'torn' | undefined,
): number | undefined {
  const { ratios, span, share, better } = slopeS === 'torn' ? TORN : WHOLE;
  const tried = STANDARD_HZ.map((hz) => hz / statedHz).filter((ratio) => {
    if (!(ratio > ratios[0] && ratio < ratios[1]) || Math.abs(ratio - 1) < 0.005) return false;
    if (slopeS === 'torn') return true;
    const part = (slopeS ?? 0) / (plan.rateSeconds * (ratio - 1));
    return part > SLOPE[0] && part < SLOPE[1];
  });
  if (tried.length === 0) return undefined;
  const shares = tried.map((ratio) => gatheredShare(spectrum, grid, plan, ratio, span));
  const best = shares.indexOf(Math.max(...shares));
  const isIt = shares[best] > share && shares[best] > better * gatheredShare(spectrum, grid, plan, 1, span);
  return isIt ? 100 * (1 / tried[best] - 1) : undefined;
}

/** Share of the energy that gathers at the best place, every frequency having one voice. */
function gatheredShare(
  spectrum: Float64Array,
  { binHz, rateHz }: Grid,
  plan: SweepPlan,
  ratio: number,
  span: Span,
): number {
  const trueBinHz = ratio * binHz;
  const band = { from: 1.1 * plan.startHz, to: Math.min(0.95 * plan.endHz, 0.4 * ratio * rateHz) };
  // what is left of the sweep at that rate says nothing
  if (band.to < 4 * band.from) return 0;
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
  const gathered = gather(bins, trueBinHz, band, span);
  return gathered.contrast * gathered.gatherS * trueBinHz;
}
