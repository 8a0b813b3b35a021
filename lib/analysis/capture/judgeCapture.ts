import type { Caveat, Severity } from '../../model/caveat';
import type { CaptureQuality } from '../../model/findings';
import type { CaptureFacts } from './captureFacts';
import { complaints, type LevelScale } from './complaints';

const GRAVITY: Record<Severity, number> = { warning: 2, doubt: 1, remark: 0 };
const VERDICTS = ['good', 'doubtful', 'bad'] as const;

/**
 * Judge a capture: whether its curves can be used, what is wrong and what to do about it.
 *
 * @param facts what was measured of the capture. @param scale what hum levels are re: 'spl' dB re 20 uPa, 'relative' a
 * full-scale sine; their reference is left unsaid where it is left out. @param others what was found beside the facts.
 * @returns the facts with a verdict and warnings, the gravest first. The verdict is that of the gravest: a warning makes
 * it 'bad', a doubt 'doubtful', remarks leave it 'good'.
 *
 * Notes: warnings are 500 clipped samples or more; no peak above -90 dBFS; a signal-to-noise ratio below 10 dB in half of
 * the bands or more; less than an octave of the sweep caught; a clock that is surely off by more than 1000 ppm.
 * Doubts are any clipped sample; end or start of the sweep missing; a peak below -40 dBFS; a signal-to-noise ratio
 * below 10 dB in any band from 16 to 200 Hz; two takes that differ by more than 1 dB; a clock surely off by more than 200 ppm.
 * Remarks are hum; a signal-to-noise ratio below 20 dB, or below 10 dB in bands beyond, where curves carry their
 * noise with them; a peak less than 1 dB below full scale; sample rates that differ; a clock off by more than 5 ppm and
 * by more than its uncertainty; takes that differ by more than 0.3 dB.
 *
 * @example
 * judgeCapture(facts).warnings[0] // { code: 'capture-clipped', severity: 'warning', values: { samples: 1204, atS: 14.2 }, ... }
 */
export function judgeCapture(facts: CaptureFacts, scale?: LevelScale, others: readonly Caveat[] = []): CaptureQuality {
  return judged(facts, [...complaints(facts, scale), ...others]);
}

/** The verdict that some warnings come to, and the warnings with the gravest first. */
export function judged(facts: CaptureFacts, caveats: readonly Caveat[]): CaptureQuality {
  const warnings = [...caveats].sort((a, b) => GRAVITY[b.severity] - GRAVITY[a.severity]);
  const gravest = warnings.length > 0 ? GRAVITY[warnings[0].severity] : 0;
  return { ...facts, verdict: VERDICTS[gravest], warnings };
}
