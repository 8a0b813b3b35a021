import type { SettingConclusion } from '../../model/findings';
import { isBadRung } from './captureViews';
import { cleanRange } from './cleanRange';
import { firstOnsets } from './firstOnsets';
import { firstPasses } from './firstPasses';
import { highestThd } from './highestThd';
import { extentOf, toldFromHz } from './limiting';
import type { SettingGroup } from './settingGroups';
import { shapeWithDrive } from './shapeWithDrive';

/** What the findings of one setting come to. @param shown the run that speaks for it, chosen among all settings. */
export function concludeSetting(group: SettingGroup, shown: SettingConclusion['shown']): SettingConclusion {
  const { device, setting, ladder, distortion, bad } = group;
  const extent = ladder ? extentOf(ladder) : null;
  const isBad = distortion?.rungs.map(({ curve, driveDb }) => isBadRung(bad, curve, driveDb)) ?? [];
  return {
    ...(device !== undefined && { device }),
    ...(setting !== undefined && { setting }),
    shown,
    extent,
    freeFromHz: ladder && extent === 'none' ? toldFromHz(ladder) : null,
    onsets: ladder ? firstOnsets(ladder) : [],
    clean: (distortion?.passes ?? []).flatMap((pass) => {
      const range = distortion && cleanRange(distortion, pass);
      return range ? [{ percent: pass.percent, ...range.best }] : [];
    }),
    passes: distortion ? firstPasses(distortion) : [],
    highestThd: distortion ? highestThd(distortion, isBad) : null,
    shape: ladder ? shapeWithDrive(ladder, bad) : null,
  };
}
