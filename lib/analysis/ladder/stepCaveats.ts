import type { Rung } from './cells';
import type { StepCheck } from './gains/checkStep';

/** A whole run that is off by more than this is named, dB. */
const RUN_GAIN_DB = 0.3;
const SIGMAS = 3.5;

/**
 * Say what speaks against the step: that it could not be measured, that it differs, that single runs are off as a whole.
 *
 * @param step the one asked for, and the one that compression was counted with. @param runs whether single runs were evened.
 */
export function stepCaveats(
  rungs: Rung[],
  check: StepCheck,
  step: { wanted: 'commanded' | 'measured'; used: 'commanded' | 'measured' },
  runs: 'evened' | 'as measured',
): string[] {
  return [
    ...unmeasured(check),
    ...(step.wanted === step.used ? different(check, step.used) : tooLoose(check)),
    ...offRuns(rungs, check, runs === 'evened'),
  ];
}

function unmeasured({ rungs }: StepCheck): string[] {
  if (rungs > 2) return [];
  if (rungs === 2) return ['The step rests on two rungs; its uncertainty takes it that runs repeat within 0.2 dB.'];
  return ['The step could not be measured: no two rungs share bands that arrive about as commanded.'];
}

function tooLoose({ step }: StepCheck): string[] {
  const { measuredDb, uncertaintyDb } = step;
  if (measuredDb === null || uncertaintyDb === null) return [];
  return [
    `The measured step of ${measuredDb.toFixed(2)} dB is certain only within ${uncertaintyDb.toFixed(2)} dB; compression was counted with the commanded one.`,
  ];
}

function different({ step }: StepCheck, used: 'commanded' | 'measured'): string[] {
  if (!step.differs) return [];
  const { commandedDb, measuredDb, uncertaintyDb } = step;
  if (measuredDb === null || uncertaintyDb === null) return [];
  const found =
    `Steps arrive as ${measuredDb.toFixed(2)} dB (within ${uncertaintyDb.toFixed(2)} dB) ` +
    `where ${commandedDb.toFixed(2)} dB were commanded`;
  if (used === 'measured') return [`${found}; compression and drives are counted with the measured step.`];
  const each = commandedDb - measuredDb;
  const change = `${Math.abs(each).toFixed(2)} dB ${each > 0 ? 'less' : 'more'}`;
  return [`${found}; counted with the measured step, compression would be ${change} for each step of drive.`];
}

function offRuns(rungs: Rung[], { runGainDb }: StepCheck, evened: boolean): string[] {
  // the median, so that the run that is off does not hide itself; 0.674 of a standard deviation
  const sizes = runGainDb.map(Math.abs).sort((a, b) => a - b);
  const limit = Math.max(RUN_GAIN_DB, (SIGMAS * sizes[sizes.length >> 1]) / 0.674);
  return rungs.flatMap(({ label }, rung) => {
    const gain = runGainDb[rung];
    if (!(Math.abs(gain) > limit)) return [];
    return [
      `The run '${label}' is ${Math.abs(gain).toFixed(1)} dB ${gain > 0 ? 'louder' : 'softer'} than its drive says, in all bands${evened ? '; that is taken out of the compression' : ''}.`,
    ];
  });
}
