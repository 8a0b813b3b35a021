import type { About } from '../../model/curve';
import type { BandFit, RollOff, SettingConclusion } from '../../model/findings';
import { quietestTrusted, type SettingGroup } from './settingGroups';

type Shown = SettingConclusion['shown'];

/** The band fit of the run that is shown; where it was not fitted, of the quietest run that nothing speaks against. */
export function quotedFit({ fits }: SettingGroup, shown: Shown): BandFit | undefined {
  return ofShown(fits, shown);
}

/** The same of the roll-off. */
export function quotedRollOff({ rollOffs }: SettingGroup, shown: Shown): RollOff | undefined {
  return ofShown(rollOffs, shown);
}

function ofShown<T extends BandFit | RollOff>(found: T[], shown: Shown): T | undefined {
  const isShown = ({ curve }: { curve: string }): boolean => curve === shown?.curve;
  const isAtDrive = ({ about }: { about: About }): boolean =>
    shown !== null && (about.driveDb ?? null) === shown.driveDb;
  return found.find(isShown) ?? found.find(isAtDrive) ?? quietestTrusted(found);
}
