import type { Caveat } from '../../model/caveat';
import type { MaximumOutput } from '../../model/findings';
import { TRUSTED_SNR_DB } from '../../response/caveatsFor';
import { makeCaveat } from '../../words/makeCaveat';
import { type HarmonicLimit, limitOf } from './limits';
import type { MeasuredBurst } from './readCapture';

type Centre = MaximumOutput['centres'][number];
type Harmonic = NonNullable<Centre['harmonic']>;

/** Less than this share of a step in drive arriving counts as compression: as for limiting regions of a ladder. */
const ARRIVING_SHARE = 0.5;
/** A louder burst must be louder by this to count as such, dB. */
const LOUDER_DB = 0.1;
/** Bursts whose drives differ by less are one rung, dB. */
const SAME_DRIVE_DB = 0.05;
/** A room that takes so much of the fundamental away makes harmonics look too large, dB. */
const NULL_DB = 6;

interface Judged extends MeasuredBurst {
  failed?: { why: 'distortion'; harmonic: Harmonic } | { why: 'clipping' | 'noise' };
  /** Orders above their limit that noise may have put there. */
  hidden: number[];
}

/**
 * Find the loudest burst of one centre whose harmonics stay under the limits, and what stopped the next.
 *
 * Notes: bursts are climbed from the lowest drive; the first that distorts or that clipped the capture ends the climb,
 * even where a higher one passes. Of those below it the loudest counts; of several as loud (within 0.1 dB) the one
 * with the least drive. A fundamental within 10 dB of the noise is passed over, and a harmonic within 10 dB of the
 * noise cannot fail. Compression stopped it where the next burst, or this one over the one before, brought less than
 * half of the step in drive.
 *
 * @param bursts all of one centre, from every capture. @param rmsDb what leads from peak at 1 m to rms at 2 m,
 * dB; null where levels cannot be brought there.
 * @returns the finding, and caveats.
 */
export function judgeCentre(
  bursts: MeasuredBurst[],
  limits: readonly HarmonicLimit[],
  rmsDb: number | null,
): { centre: Centre; caveats: Caveat[] } {
  const judged = [...bursts]
    .sort((a, b) => a.driveDb - b.driveDb || (a.levelDb ?? 0) - (b.levelDb ?? 0))
    .map((burst) => judge(burst, limits));
  const heard = judged.filter(({ levelDb }) => levelDb !== null);
  const isFailed = ({ failed }: Judged) => failed !== undefined && failed.why !== 'noise';
  const firstFailed = heard.find(isFailed);
  // a rung fails with any of its bursts, also where another capture holds a better one
  const below = heard.filter((b) => !b.failed && (!firstFailed || b.driveDb < firstFailed.driveDb - SAME_DRIVE_DB));
  const loudest = Math.max(...below.map(({ levelDb }) => levelDb as number));
  const best = below.find(({ levelDb }) => (levelDb as number) >= loudest - LOUDER_DB);
  const { stoppedBy, harmonic } = whatStopped(heard, below, best, firstFailed);
  const centreHz = bursts[0].centreHz;
  const where = { bandsHz: [centreHz] };
  const caveats: Caveat[] = [];
  const hidden = best && best.hidden.length > 0;
  const above = firstFailed && heard.find((b) => !b.failed && b.driveDb > firstFailed.driveDb + SAME_DRIVE_DB);
  if (above && stoppedBy !== 'compression') {
    const values = { failedDb: firstFailed.driveDb, passedDb: above.driveDb };
    caveats.push(makeCaveat('output-louder-passes', 'doubt', values, where));
  }
  if (hidden) caveats.push(makeCaveat('output-harmonic-in-noise', 'doubt', { orders: best.hidden.join(' ') }, where));
  if ((best ?? firstFailed)?.snrDb === null) caveats.push(makeCaveat('output-noise-unknown', 'doubt', {}, where));
  const isNull = best !== undefined && best.nullDb >= NULL_DB;
  if (isNull) caveats.push(makeCaveat('output-room-null', 'doubt', { db: best.nullDb }, where));
  const peakAt1mDb = rmsDb === null ? null : (best?.levelDb ?? null);
  return {
    centre: {
      centreHz,
      driveDb: best?.driveDb ?? null,
      levelAtMicrophoneDb: best?.microphoneDb ?? null,
      peakAt1mDb,
      rmsAt2mDb: peakAt1mDb === null || rmsDb === null ? null : peakAt1mDb + rmsDb,
      stoppedBy,
      ...(harmonic && { harmonic }),
      bursts: judged.map(({ driveDb, microphoneDb, failed, harmonicsDb, harmonicNoiseDb }) => ({
        driveDb,
        levelDb: microphoneDb,
        passed: microphoneDb !== null && !failed,
        harmonicsDb: harmonicsDb.map((level, i) => (isHeard(level, harmonicNoiseDb[i]) ? level : null)),
      })),
      trusted: best !== undefined && !hidden && !isNull && best.snrDb !== null,
    },
    caveats,
  };
}

function judge(burst: MeasuredBurst, limits: readonly HarmonicLimit[]): Judged {
  const over = burst.harmonicsDb.flatMap((levelDb, i) => {
    const limitDb = limitOf(limits, i + 2);
    const heard = isHeard(levelDb, burst.harmonicNoiseDb[i]);
    return limitDb !== undefined && levelDb > limitDb ? [{ order: i + 2, levelDb, limitDb, heard }] : [];
  });
  const hidden = over.filter(({ heard }) => !heard).map(({ order }) => order);
  if (burst.clipped) return { ...burst, failed: { why: 'clipping' }, hidden };
  if (burst.snrDb !== null && burst.snrDb < TRUSTED_SNR_DB) return { ...burst, failed: { why: 'noise' }, hidden };
  const failing = over.filter(({ heard }) => heard);
  if (failing.length === 0) return { ...burst, hidden };
  const { order, levelDb, limitDb } = failing.reduce((a, b) => (b.levelDb - b.limitDb > a.levelDb - a.limitDb ? b : a));
  return { ...burst, failed: { why: 'distortion', harmonic: { order, levelDb, limitDb } }, hidden };
}

function isHeard(levelDb: number, noiseDb: number | null): boolean {
  return noiseDb === null || levelDb - noiseDb >= TRUSTED_SNR_DB;
}

function whatStopped(
  heard: Judged[],
  below: Judged[],
  best: Judged | undefined,
  failed: Judged | undefined,
): Pick<Centre, 'stoppedBy' | 'harmonic'> {
  const byFailing = (): Pick<Centre, 'stoppedBy' | 'harmonic'> => {
    if (failed?.failed?.why === 'distortion') return { stoppedBy: 'distortion', harmonic: failed.failed.harmonic };
    return { stoppedBy: 'clipping' };
  };
  if (!best) return failed ? byFailing() : { stoppedBy: heard.length > 0 ? 'noise' : 'schedule' };
  const isAbove = (b: Judged) => b.driveDb > best.driveDb + SAME_DRIVE_DB;
  const next = below.find(isAbove);
  // what falls into the noise above a burst that was heard, and not because the noise rose, has got quieter
  const noisy = heard.find((b) => isAbove(b) && b.failed?.why === 'noise');
  const isFirst = noisy && !(failed && failed.driveDb < noisy.driveDb);
  if (next || (isFirst && !arrives(best, noisy))) return { stoppedBy: 'compression' };
  if (isFirst) return { stoppedBy: 'noise' };
  if (failed) return byFailing();
  const before = below.filter((b) => b.driveDb < best.driveDb - SAME_DRIVE_DB).at(-1);
  return { stoppedBy: before && !arrives(before, best) ? 'compression' : 'schedule' };
}

/** Whether at least half of the step from one burst to a louder one came out of the unit. */
function arrives(lower: Judged, upper: Judged): boolean {
  const step = upper.driveDb - lower.driveDb;
  return (upper.levelDb as number) - (lower.levelDb as number) >= ARRIVING_SHARE * step;
}
