import { isUnusable } from '../../model/caveat';
import type { Detail, Findings, RoomFeature, Statement } from '../../model/findings';
import { makeStatement } from '../../words/makeStatement';
import { asNumbered } from '../../words/numbered';
import { shortNames } from '../../words/shortNames';
import { isTooLong } from './atTheEar';
import { toHz, toTenth } from './rounded';
import type { Subject } from './topic';

/** Where THD passes each percentage, and where it is highest. */
export function distortionDetails({ group, conclusion, index }: Subject): Detail[] {
  const { distortion, name } = group;
  if (!distortion || isUnusable(distortion)) return [];
  const figure = `fig-distortion-${index}`;
  const { passes, highestThd, clean } = conclusion;
  const lowestDb = distortion.rungs[0]?.driveDb ?? 0;
  const found: Statement[] = [];
  if (clean.length === 0 && passes.length > 0) {
    const percent = Math.min(...passes.map((one) => one.percent));
    found.push(makeStatement('thd-nowhere-clean', { name, percent }, figure));
  }
  if (passes.length > 0) {
    const rising = [...passes].sort((a, b) => a.percent - b.percent);
    const lists = {
      percent: rising.map(({ percent }) => percent),
      hz: rising.map(({ bandHz }) => bandHz),
      levelDb: rising.map(({ levelDb }) => (levelDb === null ? null : toTenth(levelDb))),
      driveDb: rising.map(({ driveDb }) => toTenth(lowestDb + driveDb)),
      atMost: rising.map(({ atMost }) => atMost),
    };
    const values = { name, relative: distortion.scale !== 'spl', ...asNumbered(lists) };
    found.push(makeStatement('thd-passes', values, figure));
  }
  if (highestThd) {
    const { driveDb, bandHz, percent, order } = highestThd;
    const read = percent < 0.995 ? 2 : percent < 9.95 ? 1 : 0;
    const values = { name, driveDb: toTenth(driveDb), hz: bandHz, percent: Number(percent.toFixed(read)), order };
    found.push(makeStatement('thd-highest', values, figure));
  }
  if (found.length === 0 && clean.length === 0) found.push(makeStatement('thd-unknown', { name }, figure));
  return found.map((one) => ({ topic: 'distortion', ...one }));
}

/** What the headline on a switch leaves out: the other values it was read at, slope and full difference of a shelf. */
export function switchDetails({ settingDifference = [] }: Findings, headlines: readonly Statement[]): Detail[] {
  return settingDifference.flatMap((difference, k): Detail[] => {
    const { at, kind, slopeDbPerOctave, asymptoteDb } = difference;
    const isTold = (hz: number): boolean =>
      headlines.some(({ figure, values }) => figure === `fig-difference-${k + 1}` && values.hz === toHz(hz));
    const told = at.filter(({ trusted, frequencyHz }) => trusted && !isTold(frequencyHz));
    if (isUnusable(difference) || told.length === 0 || kind === 'none' || kind === 'unknown') return [];
    const [a, b] = shortNames([difference.a, difference.b], true);
    const values = {
      a,
      b,
      slopeDbPerOctave: slopeDbPerOctave === null ? null : toTenth(Math.abs(slopeDbPerOctave)),
      asymptoteDb: asymptoteDb === null ? null : toTenth(asymptoteDb),
      ...asNumbered({
        hz: told.map(({ frequencyHz }) => toHz(frequencyHz)),
        byDb: told.map(({ differenceDb }) => toTenth(differenceDb)),
      }),
    };
    return [{ topic: 'switch', ...makeStatement('switch-values', values, `fig-difference-${k + 1}`) }];
  });
}

/** Peaks of the room, what belongs to the unit, and what nothing explains. */
export function roomDetails({ roomFeatures = [] }: Findings): Detail[] {
  const usable = roomFeatures.filter((one) => !isUnusable(one));
  const told = [
    ['room-features', usable.filter((one) => one.belongsTo === 'room' && one.kind === 'peak')],
    ['unit-features', usable.filter((one) => one.belongsTo === 'unit')],
    ['features-unexplained', usable.filter((one) => one.belongsTo === 'unknown')],
  ] as const;
  return told.flatMap(([code, features]): Detail[] => {
    if (features.length === 0) return [];
    const at = (kind: RoomFeature['kind']): number[] =>
      features.filter((one) => one.kind === kind).map(({ frequencyHz }) => toHz(frequencyHz));
    return [{ topic: 'room', ...makeStatement(code, asNumbered({ dip: at('dip'), peak: at('peak') }), 'fig-room') }];
  });
}

/** How long ears may stay; a warning where the measuring itself took longer. */
export function earDetails({ exposure }: Findings): Detail[] {
  if (!exposure || isUnusable(exposure) || exposure.levelDba === null || exposure.permittedSeconds === null) return [];
  const { levelDba, permittedSeconds, measuredSeconds } = exposure;
  const values = { levelDba: toTenth(levelDba), source: 'NIOSH 98-126', ...duration(permittedSeconds) };
  const told = makeStatement('ears', { ...values, permittedSeconds }, 'cautions');
  if (measuredSeconds === null || !isTooLong(exposure)) return [{ topic: 'ears', ...told }];
  const over = makeStatement('ears-over', { measuredSeconds, ...duration(measuredSeconds) }, 'cautions');
  return [
    { topic: 'ears', ...told },
    { topic: 'ears', ...over, warning: true },
  ];
}

/** The numbers that a duration is read as. */
function duration(seconds: number): { hours: number; minutes: number; seconds: number } {
  const minutes = Math.round(seconds / 60);
  return { hours: Math.floor(minutes / 60), minutes: minutes % 60, seconds: Math.round(seconds) };
}
