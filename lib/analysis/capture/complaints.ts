import type { Caveat } from '../../model/caveat';
import type { CaptureQuality } from '../../model/findings';
import { TRUSTED_SNR_DB } from '../../response/caveatsFor';
import { makeCaveat } from '../../words/makeCaveat';
import type { CaptureFacts } from './captureFacts';

// Bounds are common practice, no source, but that of 10 dB, where noise adds 0.4 dB to a level.
const MANY_CLIPPED = 500;
const NO_SIGNAL_DBFS = -90;
const LOW_DBFS = -40;
const CLOSE_DBFS = -1;
const STEADY_SNR_DB = 20;
/** Outside, noise is expected: rooms rumble below, and few subwoofers play above. */
const PLAYED_HZ = [15, 220];
const CLOCK_PPM = { said: 5, doubtful: 200, bad: 1000 };
const TAKES_DB = { said: 0.3, doubtful: 1 };

/** What a captured level is re. */
export type LevelScale = 'spl' | 'relative';

/** Everything that the facts of a capture show to be wrong with it, in no order of gravity: see `judgeCapture`. */
export function complaints(facts: CaptureFacts, scale?: LevelScale): Caveat[] {
  return [
    clipped(facts),
    range(facts),
    ...ends(facts),
    level(facts),
    ...noise(facts),
    takes(facts.repeatability),
    hum(facts, scale),
    rates(facts),
    clock(facts),
  ].filter((caveat) => caveat !== null);
}

/** What two takes of the same run show. */
export function takes(repeatability: CaptureQuality['repeatability']): Caveat | null {
  if (!repeatability || !(repeatability.worstDb > TAKES_DB.said)) return null;
  const { take, worstDb: byDb, atHz } = repeatability;
  return makeCaveat('take-differs', byDb > TAKES_DB.doubtful ? 'doubt' : 'remark', { take, byDb, atHz });
}

function clipped({ clippedSamples: samples, clippedAtS: atS }: CaptureFacts): Caveat | null {
  if (!(samples > 0)) return null;
  return makeCaveat('capture-clipped', samples >= MANY_CLIPPED ? 'warning' : 'doubt', { samples, atS });
}

function ends({ truncatedAtHz: end, missedBelowHz: start }: CaptureFacts): (Caveat | null)[] {
  return [
    end === null ? null : makeCaveat('capture-end-missing', 'doubt', { atHz: end }),
    start === null ? null : makeCaveat('capture-start-missing', 'doubt', { atHz: start }),
  ];
}

function range({ truncatedAtHz: end, missedBelowHz: start, snrDb }: CaptureFacts): Caveat | null {
  const low = start ?? (end === null ? undefined : snrDb.frequencyHz[0]);
  const high = end ?? (start === null ? undefined : snrDb.frequencyHz.at(-1));
  if (low === undefined || high === undefined || high >= 2 * low) return null;
  return makeCaveat('capture-under-octave', 'warning', {});
}

function level({ peakDbfs, clippedSamples }: CaptureFacts): Caveat | null {
  if (!(peakDbfs >= NO_SIGNAL_DBFS)) return makeCaveat('capture-no-signal', 'warning', {});
  if (peakDbfs < LOW_DBFS) return makeCaveat('capture-level-low', 'doubt', { peakDbfs });
  if (clippedSamples > 0) return null;
  if (peakDbfs > 0) return makeCaveat('capture-level-beyond', 'remark', { peakDbfs });
  return peakDbfs > CLOSE_DBFS ? makeCaveat('capture-level-close', 'remark', { peakDbfs }) : null;
}

function noise({ snrDb: { frequencyHz, db } }: CaptureFacts): (Caveat | null)[] {
  const within = (from: number, to: number) => frequencyHz.filter((_, i) => db[i] >= from && db[i] < to);
  const poor = within(Number.NEGATIVE_INFINITY, TRUSTED_SNR_DB);
  const weak = within(TRUSTED_SNR_DB, STEADY_SNR_DB);
  const all = db.filter((value) => !Number.isNaN(value)).length;
  const isDoubt = poor.some((centre) => centre > PLAYED_HZ[0] && centre < PLAYED_HZ[1]);
  const severity = 2 * poor.length >= all ? 'warning' : isDoubt ? 'doubt' : 'remark';
  const said = { poor: { snrDb: TRUSTED_SNR_DB }, weak: { snrDb: STEADY_SNR_DB } };
  return [
    poor.length > 0 ? makeCaveat('capture-near-noise', severity, said.poor, { bandsHz: poor }) : null,
    weak.length > 0 ? makeCaveat('capture-some-noise', 'remark', said.weak, { bandsHz: weak }) : null,
  ];
}

function hum({ humHz }: CaptureFacts, scale: LevelScale | undefined): Caveat | null {
  if (humHz.length === 0) return null;
  const strongest = humHz.reduce((most, line) => (line.levelDb > most.levelDb ? line : most));
  const off = (mains: number) =>
    humHz.reduce((sum, { frequencyHz: hz }) => sum + Math.abs(hz - mains * Math.max(1, Math.round(hz / mains))), 0);
  return makeCaveat('capture-hum', 'remark', {
    mainsHz: off(50) <= off(60) ? 50 : 60,
    lines: humHz.length,
    strongestHz: strongest.frequencyHz,
    levelDb: strongest.levelDb,
    unit: scale ?? 'unknown',
  });
}

function rates({ ratesHz }: CaptureFacts): Caveat | null {
  if (!ratesHz) return null;
  const { capture: captureHz, stimulus: stimulusHz } = ratesHz;
  return makeCaveat('capture-rates-differ', 'remark', { captureHz, stimulusHz });
}

function clock({ clockPpm: ppm, clockUncertaintyPpm: uncertaintyPpm }: CaptureFacts): Caveat | null {
  if (ppm === null) return null;
  const off = Math.abs(ppm);
  const surely = off - (uncertaintyPpm ?? 0);
  if (!(off > CLOCK_PPM.said && surely > 0)) return null;
  const severity = surely > CLOCK_PPM.bad ? 'warning' : surely > CLOCK_PPM.doubtful ? 'doubt' : 'remark';
  return makeCaveat('capture-clock-off', severity, { ppm, uncertaintyPpm });
}
