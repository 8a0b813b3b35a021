import type { CaptureQuality } from '../../model/findings';
import { asCaveats } from '../../words/makeCaveat';
import type { CaptureFacts } from './captureFacts';
import { type Complaint, complaints } from './complaints';

/**
 * Judge a capture: whether its curves can be used, what is wrong and what to do about it.
 *
 * @param facts what was measured of the capture. @param scale what hum levels are re: 'spl' dB re 20 uPa, 'relative' a
 * full-scale sine; their reference is left unsaid where it is left out.
 * @returns the facts with a verdict and warnings, the gravest first.
 *
 * Notes: the verdict is the gravest of what follows.
 * 'bad': 500 clipped samples or more; no peak above -90 dBFS; a signal-to-noise ratio below 10 dB in half of the bands
 * or more; less than an octave of the sweep caught; a clock that is surely off by more than 1000 ppm.
 * 'doubtful': any clipped sample; end or start of the sweep missing; a peak below -40 dBFS; a signal-to-noise ratio
 * below 10 dB in any band from 16 Hz up; two takes that differ by more than 1 dB; a clock surely off by more than 200 ppm.
 * Only warned of: hum; a signal-to-noise ratio below 20 dB, or below 10 dB in lower bands, where curves carry their
 * noise with them; a peak less than 1 dB below full scale; sample rates that differ; a clock off by more than 5 ppm and
 * by more than its uncertainty; takes that differ by more than 0.3 dB.
 * The bounds are common practice, no source, but that of 10 dB, where noise adds 0.4 dB to a level.
 *
 * @example
 * judgeCapture(facts).warnings // ['1204 samples are clipped, the first at 14.2 s. Lower the gain ...']
 */
export function judgeCapture(facts: CaptureFacts, scale?: 'spl' | 'relative'): CaptureQuality {
  const found = complaints(facts, scale).sort((a, b) => gravity(b) - gravity(a));
  const gravest = found.length > 0 ? gravity(found[0]) : 0;
  return {
    ...facts,
    verdict: gravest === 2 ? 'bad' : gravest === 1 ? 'doubtful' : 'good',
    warnings: asCaveats(found.map(({ says }) => says)),
  };
}

function gravity({ makes }: Complaint): number {
  return makes === 'bad' ? 2 : makes === 'doubtful' ? 1 : 0;
}
