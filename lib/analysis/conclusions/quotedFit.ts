import type { About } from '../../model/curve';
import type { BandFit, RollOff } from '../../model/findings';
import { quietestTrusted } from './settingGroups';
import type { Subject } from './topic';

/** The band fit of the run that is shown; where it was not fitted, of the quietest run that nothing speaks against. */
export function quotedFit(subject: Subject): BandFit | undefined {
  return ofShown(subject, subject.group.fits);
}

/** The same of the roll-off. */
export function quotedRollOff(subject: Subject): RollOff | undefined {
  return ofShown(subject, subject.group.rollOffs);
}

function ofShown<T extends BandFit | RollOff>({ conclusion: { shown } }: Subject, found: T[]): T | undefined {
  const isShown = ({ curve }: { curve: string }): boolean => curve === shown?.curve;
  const isAtDrive = ({ about }: { about: About }): boolean =>
    shown !== null && (about.driveDb ?? null) === shown.driveDb;
  return found.find(isShown) ?? found.find(isAtDrive) ?? quietestTrusted(found);
}
