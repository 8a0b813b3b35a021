import { isUnusable } from '../../model/caveat';
import type { Detail, RollOff, Statement } from '../../model/findings';
import { makeStatement } from '../../words/makeStatement';
import { asNumbered, numbered } from '../../words/numbered';
import { plainName } from '../../words/plainName';
import { passedDips } from './passedDips';
import { quotedFit, quotedRollOff } from './quotedFit';
import { toHundredth, toHz, toTenth } from './rounded';
import type { Subject } from './topic';

/** A roll-off that misses the curve by more than this names no corner, dB rms: roll-offs of units in rooms do. */
const MOST_MISFIT_DB = 1;

/** What belongs to the range of a setting beside its headlines. @param told values of the headline on depth. */
export function rangeDetails(subject: Subject, told: readonly Statement[]): Detail[] {
  const statements = [...fitDetails(subject, told), ...rollOffDetails(subject)];
  return statements.map((one) => ({ topic: 'range', ...one }));
}

function fitDetails(subject: Subject, told: readonly Statement[]): Statement[] {
  const fit = quotedFit(subject.group, subject.conclusion.shown);
  if (!fit || isUnusable(fit)) return [];
  const { group, index } = subject;
  const { name } = group;
  const figure = `fig-response-${index}`;
  const found: Statement[] = [];
  const { withoutMasks: bare, runnerUp, neededHeightDb, rangeHz, points } = fit;
  if (fit.masksHz.length > 0 && (toHz(bare.lowHz) !== toHz(fit.lowHz) || toHz(bare.highHz) !== toHz(fit.highHz))) {
    const values = { name, lowHz: toHz(bare.lowHz), highHz: toHz(bare.highHz), heightDb: toTenth(fit.heightDb) };
    found.push(makeStatement('range-dips-counted', values, figure));
  }
  if (runnerUp) {
    const { lowHz, highHz, octaves } = runnerUp;
    const values = { name, lowHz: toHz(lowHz), highHz: toHz(highHz), octaves: toHundredth(octaves) };
    found.push(makeStatement('range-runner-up', values, figure));
  }
  if (neededHeightDb !== undefined && rangeHz) {
    const values = { name, lowHz: toHz(rangeHz[0]), highHz: toHz(rangeHz[1]), heightDb: toTenth(neededHeightDb) };
    found.push(makeStatement('range-needs', values, figure));
  }
  const reached = points.filter(({ lowHz }) => lowHz !== null);
  const isTold = told.some(
    ({ code, values }) => code === 'depth-points' && numbered(values, 'name').includes(subject.short),
  );
  if (points.length > 0 && reached.length === 0) {
    const least = Math.min(...points.map(({ downDb }) => downDb));
    found.push(makeStatement('depth-not-reached', { name, downDb: least }, figure));
  }
  if (!isTold && reached.length > 0) {
    const lists = {
      downDb: reached.map(({ downDb }) => downDb),
      lowHz: reached.map(({ lowHz }) => toHz(lowHz as number)),
      dipHz: passedDips(reached),
    };
    const values = { name, referenceDb: toTenth(fit.referenceDb), ...asNumbered(lists) };
    found.push(makeStatement('depth-further', values, figure));
  }
  return found;
}

type Slope = Omit<RollOff, 'f0Hz'> & { f0Hz: number | null; rangeHz?: [number, number] };

function rollOffDetails(subject: Subject): Statement[] {
  const rollOff: Slope | undefined = quotedRollOff(subject.group, subject.conclusion.shown);
  if (!rollOff || isUnusable(rollOff)) return [];
  const { name } = subject.group;
  const figure = `fig-response-${subject.index}`;
  const { f0Hz, q, order, rmsErrorDb, rangeHz } = rollOff;
  if (f0Hz === null || !(rmsErrorDb <= MOST_MISFIT_DB)) {
    const slopeDbPerOctave = Math.round(rollOff.slopeDbPerOctave);
    const range = { lowHz: rangeHz ? toHz(rangeHz[0]) : null, highHz: rangeHz ? toHz(rangeHz[1]) : null };
    return [makeStatement('roll-off-slope', { name, slopeDbPerOctave, ...range }, figure)];
  }
  const values = {
    name,
    order,
    slopeDbPerOctave: toTenth(rollOff.slopeDbPerOctave),
    f0Hz: toHz(f0Hz),
    q: q === null ? null : toHundredth(q),
    alignment: plainName(rollOff.alignment ?? ''),
  };
  return [makeStatement('roll-off', values, figure)];
}
