import { isUnusable } from '../../model/caveat';
import type { Statement } from '../../model/findings';
import { makeStatement } from '../../words/makeStatement';
import { asNumbered } from '../../words/numbered';
import { doubtOf } from './doubtOf';
import { toHz, toTenth } from './rounded';
import { tellingChange } from './shapeWithDrive';
import type { Candidate, Session, Subject } from './topic';

/** How clean each setting stays, and what becomes of its shape as it gets louder. */
export function soundHeadlines({ subjects }: Session): Candidate[] {
  const clean = subjects.flatMap(cleanOf).map((one, k) => ({ ...one, rank: k === 0 ? 6 : 8 }));
  const shapes = subjects.flatMap(shapeOf);
  return [...clean, ...keptAsOne(shapes.filter(isKept)), ...shapes.filter((one) => !isKept(one))];
}

const isKept = ({ headline }: Candidate): boolean => headline.code === 'shape-kept';

/** Settings that keep their shape over the same drives, in one sentence; last of all, for it is what one expects. */
function keptAsOne(kept: Candidate[]): Candidate[] {
  const groups = new Map<string, Candidate[]>();
  for (const one of kept) {
    const { lowDriveDb, highDriveDb } = one.headline.values;
    const key = JSON.stringify([lowDriveDb, highDriveDb, one.headline.doubt]);
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  return [...groups.values()].map((group) => {
    const [{ headline, ...first }] = group;
    const { lowDriveDb, highDriveDb } = headline.values;
    const names = asNumbered({ name: group.map((one) => one.headline.values.name1 as string) });
    const values = { lowDriveDb: lowDriveDb as number, highDriveDb: highDriveDb as number, ...names };
    const { doubt } = headline;
    const statement = makeStatement('shape-kept', values, headline.figure);
    return { ...first, rank: 10, headline: { ...statement, ...(doubt !== undefined && { doubt }) } };
  });
}

function cleanOf({ group, conclusion, short: name, index }: Subject): Candidate[] {
  const { distortion } = group;
  const [lowest] = [...conclusion.clean].sort((a, b) => a.percent - b.percent);
  if (!distortion || isUnusable(distortion) || !lowest) return [];
  const { percent, lowHz, highHz, levelDb, atLeast } = lowest;
  const values = {
    name,
    percent,
    lowHz,
    highHz,
    levelDb: toTenth(levelDb),
    atLeast,
    relative: distortion.scale !== 'spl',
  };
  const doubt = doubtOf([distortion], [[lowHz, highHz]]);
  const headline = {
    ...makeStatement('thd-clean', values, `fig-clean-${index}`),
    ...(doubt !== undefined && { doubt }),
  };
  return [{ rank: 6, topic: 'distortion', headline }];
}

function shapeOf({ group, conclusion, short: name, index }: Subject): Candidate[] {
  const { shape } = conclusion;
  const { ladder } = group;
  if (!ladder || isUnusable(ladder) || !shape || shape.kind === 'unknown') return [];
  const [figure, told] = [`fig-ladder-${index}`, tellingChange(shape)];
  let statement: Statement;
  if (shape.kind === 'kept') {
    const drives = { lowDriveDb: toTenth(shape.lowDriveDb), highDriveDb: toTenth(shape.highDriveDb) };
    statement = makeStatement('shape-kept', { ...drives, ...asNumbered({ name: [name] }) }, figure);
  } else {
    if (!told) return [];
    const hz = toHz(told.hz);
    if (shape.kind === 'bends')
      statement = makeStatement('shape-bends', { name, hz, byDb: toTenth(told.changeDb) }, figure);
    else {
      const code = shape.kind === 'loses bottom' ? 'shape-loses-bottom' : 'shape-gains-bottom';
      statement = makeStatement(code, { name, hz, byDb: toTenth(Math.abs(told.changeDb)) }, figure);
    }
  }
  const doubt = doubtOf([ladder], told ? [[told.hz * 0.9, told.hz * 1.1]] : undefined);
  return [{ rank: 9, topic: 'shape', headline: { ...statement, ...(doubt !== undefined && { doubt }) } }];
}
