import type { Curve } from '../model/curve';
import { setUpBench } from './bench';
import type { RigSpec } from './rigSpec';
import { type SessionTruth, sessionTruth } from './sessionTruth';

/** Everything a measuring session yields, and what is true behind it. */
export interface Session {
  /** By setting, then drive. */
  curves: Curve[];
  /** The muted run; undefined on a silent bench. */
  noise?: Curve;
  /** The microphone's file; undefined for a perfect microphone. */
  correction?: Curve;
  /** Computed when first asked for. */
  readonly truth: SessionTruth;
}

/**
 * Measure a whole session: every setting at every rung, a muted run, the microphone's correction file.
 *
 * @param rig the bench.
 * @returns the curves as read, uncorrected, and the truth behind them.
 * @throws BassloomError `bad-grid`.
 *
 * @example
 * const { curves, noise, correction, truth } = measureSession(drawRig(7));
 */
export function measureSession(rig: RigSpec): Session {
  const bench = setUpBench(rig);
  const curves = rig.settings.flatMap(({ name }) =>
    Array.from({ length: rig.drive.rungs }, (_, rung) =>
      bench.measure({ setting: name, driveDb: rung * rig.drive.commandedStepDb }),
    ),
  );
  let truth: SessionTruth | undefined;
  return {
    curves,
    noise: bench.measureNoise(),
    correction: bench.correction(),
    get truth() {
      truth ??= sessionTruth(rig);
      return truth;
    },
  };
}
