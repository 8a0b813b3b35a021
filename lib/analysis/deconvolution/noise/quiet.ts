import { type Law, sweepTime } from '../place/reference';

/** After the sweep has passed a frequency, a room may ring there for so long, s. */
const RINGING_S = 2;
/** Harmonics above that order are taken for noise where nothing else is quiet. */
const HIGHEST_ORDER = 12;

export interface QuietTimes {
  until: number;
  since: number;
}

/** Which parts of a capture hold only noise, over time and frequency. */
export interface Quiet {
  /** At a frequency: until when there is only noise, and from when on again, s. */
  at(hz: number): QuietTimes;
  /** The same where there is too little of it: also while the sweep is far below. */
  nearlyAt(hz: number): QuietTimes;
  /** Length of the blocks that fit, s. */
  blockS: number;
  /** Longest stretch without any of the stimulus, seconds into the capture. */
  silence: [fromS: number, toS: number];
}

/**
 * Find where a capture holds only noise: before the sweep begins, and at each frequency after the sweep has passed it
 * and its ringing is over. A sweep that has gone up leaves what is below it quiet.
 *
 * @param law of the sweep; undefined for other stimuli, which count as filling all their time.
 * @param arrivalS of the stimulus in the capture, s. @param soundsS from when to when it sounds. @param captureS duration
 * of the capture.
 */
export function quietOf(law: Law | undefined, arrivalS: number, soundsS: [number, number], captureS: number): Quiet {
  const startS = arrivalS + (law ? sweepTime(law, law.startHz) : soundsS[0]);
  const endS = arrivalS + (law ? sweepTime(law, law.endHz) : soundsS[1]);
  const passedS = (hz: number) => (law ? arrivalS + sweepTime(law, Math.max(hz, law.startHz * 0.5)) : endS);
  const guardS = 0.02;
  const at = (hz: number) => ({
    until: startS - guardS,
    since: Math.min(passedS(hz * 1.06), Math.max(endS, startS)) + RINGING_S,
  });
  const nearlyAt = (hz: number) => ({
    until: law ? Math.max(startS - guardS, passedS(hz / HIGHEST_ORDER)) : startS - guardS,
    since: Math.min(at(hz).since, endS + 0.5 * RINGING_S),
  });
  const before: [number, number] = [0, Math.max(0, startS - guardS)];
  const after: [number, number] = [Math.min(captureS, endS + RINGING_S), captureS];
  const silence = after[1] - after[0] > before[1] ? after : before;
  const longest = Math.min(Math.max(silence[1] - silence[0], 0.3), captureS);
  return { at, nearlyAt, blockS: Math.min(1.4, longest * 0.95), silence };
}
