import type { Caveat } from '../../model/caveat';
import { makeCaveat } from '../../words/makeCaveat';
import type { Rung } from './cells';
import type { StepCheck } from './gains/checkStep';

/** A whole run that is off by more than this is named, dB: three times what careful runs repeat within (0.1 dB) ... */
const RUN_GAIN_DB = 0.3;
/** ... or by so many standard deviations of the others. */
const SIGMAS = 3.5;

/**
 * Say what speaks against the step: that it could not be measured, that it differs, that single runs are off as a whole.
 *
 * @param rungs those that are judged. @param step the one asked for, the one that compression was counted with, and whether
 * it is told already why none could be measured.
 * @param runs whether single runs were evened.
 */
export function stepCaveats(
  rungs: Rung[],
  check: StepCheck,
  step: { wanted: 'commanded' | 'measured'; used: 'commanded' | 'measured'; isTold: boolean },
  runs: 'evened' | 'as measured',
): Caveat[] {
  return [...ofStep(check, step), ...offRuns(rungs, check, runs === 'evened'), ...lostTogether(rungs, check)];
}

function ofStep(
  { step, rungs }: StepCheck,
  { wanted, used, isTold }: { wanted: string; used: 'commanded' | 'measured'; isTold: boolean },
) {
  const { commandedDb, measuredDb, uncertaintyDb, differs } = step;
  if (measuredDb === null || uncertaintyDb === null)
    return [makeCaveat('ladder-step-unmeasured', isTold ? 'remark' : 'doubt', {})];
  return [
    ...(rungs === 2 ? [makeCaveat('ladder-step-of-two', 'remark', {})] : []),
    ...(wanted !== used ? [makeCaveat('ladder-step-uncertain', 'doubt', { measuredDb, uncertaintyDb })] : []),
    ...(wanted === used && differs
      ? [
          makeCaveat('ladder-step-differs', used === 'measured' ? 'remark' : 'doubt', {
            measuredDb,
            uncertaintyDb,
            commandedDb,
            used,
          }),
        ]
      : []),
  ];
}

function offRuns(rungs: Rung[], { runGainDb }: StepCheck, evened: boolean): Caveat[] {
  // the median, so that the run that is off does not hide itself; 0.674 of a standard deviation
  const sizes = runGainDb.map(Math.abs).sort((a, b) => a - b);
  const limit = Math.max(RUN_GAIN_DB, (SIGMAS * sizes[sizes.length >> 1]) / 0.674);
  return rungs.flatMap(({ id, label }, rung) => {
    const offDb = runGainDb[rung];
    if (!(Math.abs(offDb) > limit)) return [];
    return [makeCaveat('ladder-run-off', evened ? 'remark' : 'doubt', { label, offDb, evened }, { curve: id })];
  });
}

function lostTogether(rungs: Rung[], { commonLossDb }: StepCheck): Caveat[] {
  const lossDb = Math.max(...commonLossDb.map((db) => db ?? 0));
  if (!(lossDb > 0)) return [];
  const { id, label } = rungs[commonLossDb.indexOf(lossDb)];
  return [makeCaveat('ladder-common-loss', 'remark', { lossDb, label }, { curve: id })];
}
