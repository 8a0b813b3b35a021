import type { Recording } from '../../model/curve';
import { thirdOctaveCentres } from '../../model/octaves';
import { stepsOf } from '../../model/step';
import type { SoundTruth } from './soundTruth';
import type { SweepLimits } from './sweepLimits';

/** What is true of a recording, as plain JSON. */
export type SoundFacts = Omit<SoundTruth, 'tone' | 'sweep'> & {
  /** A tone of the stimulus's level at third-octave centres from 10 to 250 Hz, steady, or as the sweep passes it; null for silence. */
  tone: { frequencyHz: number[]; splDb: number[]; limiterLossDb: number[]; thdPercent: number[] } | null;
  /** Where the recording began and ended within the sweep; null where the stimulus is not known to be one. */
  sweep: SweepLimits | null;
};

/**
 * Write the truth of a recording down as plain JSON.
 *
 * @param truth from `playRig`. @param stimulus what was played; a sweep is known by the step of `makeSweep`.
 *
 * @example
 * JSON.stringify(soundFacts(truth, sweep))
 */
export function soundFacts(truth: SoundTruth, stimulus: Pick<Recording, 'steps'>): SoundFacts {
  const { tone, sweep, ...facts } = truth;
  const made = stepsOf(stimulus, 'make sweep')[0]?.with;
  return {
    ...facts,
    tone: facts.toneDbfs === null ? null : told(tone(thirdOctaveCentres(8.9, 282), { sweep: made })),
    sweep: made ? sweep(made) : null,
  };
}

/** To a thousandth, and corrected for the microphone. */
function told(tone: ReturnType<SoundTruth['tone']>): NonNullable<SoundFacts['tone']> {
  const { frequencyHz, splDb, limiterLossDb, thdCorrectedPercent } = tone;
  const round = (values: number[]) => values.map((value) => Math.round(1000 * value) / 1000);
  return {
    frequencyHz: round(frequencyHz),
    splDb: round(splDb),
    limiterLossDb: round(limiterLossDb),
    thdPercent: round(thdCorrectedPercent),
  };
}
