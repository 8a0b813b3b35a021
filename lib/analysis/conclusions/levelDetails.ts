import { isUnusable } from '../../model/caveat';
import type { Detail, Statement } from '../../model/findings';
import { makeStatement } from '../../words/makeStatement';
import { asNumbered } from '../../words/numbered';
import { bandsOutside, lastToldRung } from './limiting';
import { outputLevels } from './outputLevels';
import { toHz, toTenth } from './rounded';
import type { Subject } from './topic';

/** How and where a setting limits, beside its headlines. @param told headlines taken, whatever their setting. */
export function limitDetails(subject: Subject, told: readonly Statement[]): Detail[] {
  const { ladder, name } = subject.group;
  if (!ladder || isUnusable(ladder) || ladder.rungs.length < 2) return [];
  const figure = `fig-ladder-${subject.index}`;
  const lowestDb = ladder.rungs[0].driveDb;
  const { extent, onsets } = subject.conclusion;
  const found: Statement[] = [];
  const isLimited = extent !== null && extent !== 'none' && extent !== 'unknown';
  const isWhole = told.some(
    ({ code, values }) =>
      code === `limits-${extent}` &&
      values.name === subject.short &&
      values.lowHz2 === undefined &&
      values.spanLowHz === null,
  );
  if (isLimited && !(isWhole && ladder.regions.length === 1)) {
    const lists = {
      lowHz: ladder.regions.map(({ lowHz }) => toHz(lowHz)),
      highHz: ladder.regions.map(({ highHz }) => toHz(highHz)),
      fromDriveDb: ladder.regions.map(({ onsetDriveDb }) => toTenth(lowestDb + onsetDriveDb)),
      toDriveDb: ladder.regions.map(({ onsetToDriveDb }) => toTenth(lowestDb + onsetToDriveDb)),
      ceilingDb: ladder.regions.map(({ ceilingDb }) => toTenth(ceilingDb)),
      sharp: ladder.regions.map(({ kind }) => kind === 'limiter'),
    };
    found.push(
      makeStatement('limit-regions', { name, relative: ladder.scale !== 'spl', ...asNumbered(lists) }, figure),
    );
  }
  if (isLimited) found.push(...outsideDetails(subject, figure));
  // where regions tell it, losses are in the table
  if (!isLimited && onsets.length > 0) {
    const lists = {
      lossDb: onsets.map(({ compressionDb }) => toTenth(compressionDb)),
      hz: onsets.map(({ bandHz }) => toHz(bandHz)),
      driveDb: onsets.map(({ driveDb }) => toTenth(lowestDb + driveDb)),
    };
    found.push(makeStatement('first-loss', { name, ...asNumbered(lists) }, `fig-map-${subject.index}`));
  } else if (onsets.length === 0 && extent === 'none' && ladder.onset.length > 0) {
    const lossDb = Math.min(...ladder.onset.map(({ compressionDb }) => compressionDb));
    const driveDb = toTenth(ladder.rungs[lastToldRung(ladder)].driveDb);
    found.push(makeStatement('no-loss', { name, lossDb: toTenth(lossDb), driveDb }, `fig-map-${subject.index}`));
  }
  return found.map((one) => ({ topic: 'limits', ...one }));
}

/** What the bands do that are in no limiting region: said only of those that trusted levels tell of. */
function outsideDetails({ group: { ladder, name } }: Subject, figure: string): Statement[] {
  const { following, losing, of } = ladder ? bandsOutside(ladder) : { following: [], losing: [], of: 0 };
  if (of === 0) return [];
  if (losing.length > 0) {
    const byDb = toTenth(Math.max(...losing.map(({ lossDb }) => lossDb)));
    return [makeStatement('others-lose', { name, losing: losing.length, byDb }, figure)];
  }
  if (following.length === 0) return [makeStatement('others-unknown', { name }, figure)];
  return [makeStatement('others-follow', { name, following: following.length, others: of }, figure)];
}

/** The bands of which bursts are told, Hz. */
const TOLD_HZ = [20, 31.5, 63];

/** How loud bursts go, and what stopped them. */
export function outputDetails({ group, index }: Subject): Detail[] {
  const { maximumOutput: output, name } = group;
  if (!output || isUnusable(output) || output.centres.length === 0) return [];
  const figure = `fig-output-${index}`;
  const { levels, fromM, toM } = outputLevels(output);
  const trusted = levels.filter((one) => one.trusted);
  if (levels.length === 0) return [{ topic: 'output', ...makeStatement('bursts-none', { name }, 'method') }];
  const quoted = trusted.filter(({ hz }) => TOLD_HZ.includes(hz));
  const told = quoted.length > 0 ? quoted : trusted.slice(0, 1);
  const lists = {
    hz: told.map(({ hz }) => hz),
    levelDb: told.map(({ levelDb }) => toTenth(levelDb)),
    atLeast: told.map(({ atLeast }) => atLeast),
  };
  const counts = new Map<string, number>();
  for (const { stoppedBy } of output.centres) counts.set(stoppedBy, (counts.get(stoppedBy) ?? 0) + 1);
  const stops = [...counts].sort((a, b) => b[1] - a[1]);
  const stopped = asNumbered({ stop: stops.map(([stop]) => stop), count: stops.map(([, count]) => count) });
  return [
    ...(told.length > 0
      ? [
          makeStatement(
            'burst-levels',
            { name, relative: output.scale !== 'spl', fromM, toM, ...asNumbered(lists) },
            figure,
          ),
        ]
      : []),
    makeStatement('burst-stops', { name, centres: output.centres.length, ...stopped }, figure),
  ].map((one) => ({ topic: 'output', ...one }));
}
