import { planSweep, type SweepSpec } from '../../signal/sweepPlan';
import type { Equaliser } from '../rigSpec';
import { equalise } from '../unitResponse';
import { type BandLosses, steadyLosses } from './limitSound';
import type { BandLimiterSpec, SoundRigSpec } from './soundRigSpec';

const STEP_S = 0.002;

/**
 * Losses of the limiter's bands at each frequency while a sweep passes it.
 *
 * @param levelDb level of the sweep at 1 m, as in `playLevelDb`, ahead of the switch, dB. @param sweep what is played.
 * @returns losses by frequency in Hz, on straight lines over time; before the sweep none, after it the last.
 *
 * Notes: the one-pole law of `limitSound`, integrated over the level that each instant's frequency would have as a
 * steady tone; the detector's look ahead is left out.
 */
export function sweptLosses(
  { soundLimiter, unit }: SoundRigSpec,
  equaliser: Equaliser,
  levelDb: number,
  sweep: SweepSpec,
): (hz: number) => BandLosses {
  const { startHz, rateSeconds, sweepSeconds } = planSweep(sweep);
  const limiter = soundLimiter!;
  const track: BandLosses[] = [{ bottom: 0, top: 0 }];
  for (let n = 1; n * STEP_S <= sweepSeconds; n++) {
    const hz = startHz * Math.exp((n * STEP_S) / rateSeconds);
    const wanted = steadyLosses(limiter, unit, hz, levelDb + equalise(equaliser, hz).db);
    const before = track[n - 1];
    track.push({
      bottom: followed(limiter.bottom, before.bottom, wanted.bottom),
      top: followed(limiter.top, before.top, wanted.top),
    });
  }
  return (hz) => {
    const place = Math.min(track.length - 1, Math.max(0, (rateSeconds * Math.log(hz / startHz)) / STEP_S));
    const from = Math.floor(place);
    const [a, b] = [track[from], track[Math.min(from + 1, track.length - 1)]];
    const between = (x: number, y: number) => x + (place - from) * (y - x);
    return { bottom: between(a.bottom, b.bottom), top: between(a.top, b.top) };
  };
}

function followed(band: BandLimiterSpec | undefined, loss: number, wanted: number): number {
  if (!band) return 0;
  const seconds = wanted > loss ? band.attackS : band.releaseS;
  return wanted + (loss - wanted) * Math.exp(-STEP_S / seconds);
}
