import type { CaveatPlace } from '../../model/caveat';
import { bandRuns } from '../bandRuns';
import type { Format } from '../format';
import type { Phrases } from '../phrase';

const bands = ({ bandsHz }: CaveatPlace, say: Format): string => say.hzList(bandRuns(bandsHz));
const louder = (offDb: number, say: Format): string => `${say.db(Math.abs(offDb))} ${offDb > 0 ? 'louder' : 'quieter'}`;

type Pair = { lower: string; upper: string; offDb: number };

/** Compression ladder. */
export const ladder = {
  'ladder-too-few-drives': ({ runs }: { runs: string }) =>
    `${runs}: no compression ladder, because it takes runs at two drive levels or more.`,
  'ladder-places-differ': () =>
    'The runs were not all taken at the same position and distance; differences between them may be the place, not the unit.',
  'ladder-repeats': ({ runs, driveDb }: { runs: number; driveDb: number }, _where, say) =>
    `${runs} runs at ${say.dbChange(driveDb)} of drive were power-averaged as repeats.`,
  'ladder-repeats-differ': ({ driveDb, offDb }: { driveDb: number; offDb: number }, _where, say) =>
    `The repeats at ${say.dbChange(driveDb)} of drive differ by up to ${say.db(offDb)}; find out which one is wrong and leave it out.`,

  // noise
  'ladder-noise-partial': () =>
    'Some runs came without noise levels; the mean of those of the other runs was taken for them.',
  'ladder-noise-unknown': () =>
    'The noise level is unknown (no noise run, too few points), so no value can be trusted. Measure a noise run.',
  'ladder-noise-estimated': () =>
    'There is no noise run: signal-to-noise ratios are estimated from the scatter between the lowest rungs.',
  'ladder-curves-smoothed': ({ points }: { points: number }) =>
    `Neighbouring points of the curves move together (over about ${points} points): they were smoothed or written on a finer grid. The noise estimate was raised to allow for it.`,
  'ladder-noise-unknown-bands': (_values: Record<string, never>, where, say) =>
    `The noise level at ${bands(where, say)} is unknown: values there are untrusted.`,
  'ladder-near-noise': (_values: Record<string, never>, where, say) =>
    `Some rungs are less than ${say.db(10, 0)} above the noise at ${bands(where, say)}; those values are untrusted.`,
  'ladder-no-reference': (_values: Record<string, never>, where, say) =>
    `No rung reaches a signal-to-noise ratio of ${say.db(20, 0)} at ${bands(where, say)}: compression there is unknown.`,
  'ladder-few-points': (_values: Record<string, never>, where, say) =>
    `At ${bands(where, say)} there are too few points to average the noise out: no rung is certain enough to count from.`,
  'ladder-no-step-above': (_values: Record<string, never>, where, say) =>
    `At ${bands(where, say)} no step above the first loud enough rung tells whether that rung is compressed already: compression there is untrusted.`,
  'ladder-reference-short': (_values: Record<string, never>, where, say) =>
    `At ${bands(where, say)} the first step above the reference rung does not arrive in full: compression there is ‘at least’ and untrusted. Start the ladder lower.`,

  'ladder-stuck': ({ stepDb, raisedDb }: { stepDb: number; raisedDb: number }, where, say) =>
    `At ${bands(where, say)} each step of ${say.db(stepDb, stepDb % 1 === 0 ? 0 : 1)} ${Math.abs(raisedDb) < 0.05 ? 'left the level as it was' : raisedDb < 0 ? `lowered the level by about ${say.db(-raisedDb)}` : `raised the level by only about ${say.db(raisedDb)}`}, from the first one on: either the unit is at its limit there already, or the drive was not raised as named. Start the ladder lower and check the drives.`,

  // step
  'ladder-step-of-two': (_values: Record<string, never>, _where, say) =>
    `The step was measured on two rungs only; its uncertainty assumes that runs repeat within ${say.db(0.2)}.`,
  'ladder-step-unmeasured': () =>
    'The step could not be measured: no two neighbouring rungs share bands that rise about as commanded.',
  'ladder-step-uncertain': (
    { measuredDb, uncertaintyDb }: { measuredDb: number; uncertaintyDb: number },
    _where,
    say,
  ) =>
    `The measured step of ${say.db(measuredDb, 2)} is certain only within ${say.db(uncertaintyDb, 2)}; compression was counted with the commanded one.`,
  'ladder-step-differs': (
    {
      measuredDb,
      uncertaintyDb,
      commandedDb,
      used,
    }: { measuredDb: number; uncertaintyDb: number; commandedDb: number; used: 'commanded' | 'measured' },
    _where,
    say,
  ) => {
    const lost = commandedDb - measuredDb;
    const reading =
      lost > 0 ? `: the drive rises by less than named, or all bands lose ${say.db(lost, 2)} with each step` : '';
    const found = `Steps measure ${say.number(measuredDb, 2)} ± ${say.db(uncertaintyDb, 2)} where ${say.db(commandedDb, 2)} was commanded${reading}`;
    if (used === 'measured') return `${found}; compression and drives are counted with the measured step.`;
    return `${found}. Counted with the measured step, compression would be ${say.db(Math.abs(lost), 2)} ${lost > 0 ? 'less' : 'more'} for each step of drive.`;
  },
  'ladder-run-off': ({ label, offDb, evened }: { label: string; offDb: number; evened: boolean }, _where, say) =>
    `The run ‘${label}’ is ${louder(offDb, say)} than its drive says, in all bands${evened ? '; this was taken out of the compression' : ''}.`,
  'ladder-common-loss': ({ lossDb, label }: { lossDb: number; label: string }, _where, say) =>
    `Up to ‘${label}’ all bands lose ${say.db(lossDb)} together, as happens when a voice coil heats up; this is counted as compression.`,
  'ladder-expansion': ({ label, mostDb, rungs }: { label: string; mostDb: number; rungs: number }, where, say) =>
    rungs === 1
      ? `‘${label}’ gives up to ${say.db(mostDb)} more than its drive (expansion) at ${bands(where, say)}.`
      : `${rungs} rungs give more than their drive (expansion) at ${bands(where, say)}: up to ${say.db(mostDb)} at ‘${label}’.`,

  // rungs that do not fit each other
  'ladder-gain-slipped': ({ lower, upper, offDb }: Pair, _where, say) =>
    `In all bands ‘${upper}’ is ${louder(offDb, say)} than ‘${lower}’ and the step in drive predict: a gain was changed in between. Nothing is counted across it.`,
  'ladder-response-changed': ({ lower, upper }: Pair, where, say) =>
    `Between ‘${lower}’ and ‘${upper}’ the response itself changes, at ${bands(where, say)}: the microphone was moved, a filter, the setting or the smoothing changed, or one of the two runs is spoiled. Nothing is counted across it.`,
  'ladder-not-rising': ({ lower, upper, fallDb }: Pair & { fallDb: number }, _where, say) =>
    `From ‘${lower}’ to ‘${upper}’ the drive rises but the level ${fallDb > 0.05 ? `falls by ${say.db(fallDb)}` : 'does not'}: the order, a drive or a gain is wrong, or the unit protects itself. Nothing is counted across it.`,
  'ladder-file-twice': ({ lower, upper }: { lower: string; upper: string }) =>
    `‘${lower}’ and ‘${upper}’ hold the same numbers at different drives: one file was taken twice. Nothing is counted across it.`,
  'ladder-rungs-swapped': ({ lower, upper }: { lower: string; upper: string }) =>
    `‘${lower}’ and ‘${upper}’ fit the ladder only with their drives exchanged; neither is counted. Correct their drives.`,
  'ladder-rung-off': ({ label, lower, upper, offDb }: Pair & { label: string }, where, say) =>
    `‘${label}’ does not fit ‘${lower}’ below it and ‘${upper}’ above it, which fit each other: it is ${louder(offDb, say)} than its drive says${where.bandsHz ? ` at ${bands(where, say)}` : ' in all bands'}. It is not counted; take it again.`,
  'ladder-last-run-low': ({ lower, upper, offDb }: Pair, _where, say) =>
    `In all bands alike ‘${upper}’, the last run, is ${louder(offDb, say)} than ‘${lower}’ and the step in drive predict. One more rung would tell whether a gain was changed or everything reached its limit at once; it is not counted.`,
  'ladder-cells-off': ({ label, mostDb }: { label: string; mostDb: number }, where, say) =>
    `‘${label}’ does not fit its neighbours in frequency and drive at ${bands(where, say)} (up to ${say.db(mostDb)} off), as a noise or a dropout would cause; those values are not counted.`,
  'ladder-cells-rough': ({ label, scatterDb }: { label: string; scatterDb: number }, where, say) =>
    `The points of ‘${label}’ scatter by ${say.db(scatterDb)} at ${bands(where, say)}, far more than noise and the other runs explain: something else sounded. Those values are not counted; take the run again.`,
  'ladder-last-cells-low': ({ label, lowDb }: { label: string; lowDb: number }, where, say) =>
    `‘${label}’, the last run, falls short by up to ${say.db(lowDb)} at ${bands(where, say)}, all at once: part of the sweep dropped out, or a limit sets in there. One more rung would tell; those values are not counted.`,
  'ladder-last-only': ({ label }: { label: string }, where, say) =>
    `At ${bands(where, say)} only ‘${label}’, the last run, falls short, while bands below follow the drive: a limit begins there, or something spoiled this run. One more rung would tell.`,
  'ladder-part-judged': ({ from, to, rungs, of }: { from: string; to: string; rungs: number; of: number }) =>
    `Only the rungs from ‘${from}’ to ‘${to}’ fit each other (${rungs} of ${of}); compression, limits and ceilings are those of this part.`,
  'ladder-broken': ({ falls }: { falls: boolean }) =>
    `${falls ? 'The level falls as drive rises, from run to run' : 'No two neighbouring rungs fit each other'}: nothing can be counted. Check drives, order and gain, then measure again.`,
} satisfies Phrases;
