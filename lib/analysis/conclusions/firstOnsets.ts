import type { Ladder, SettingConclusion } from '../../model/findings';
import { nominalHz } from '../../model/octaves';

/** Where each amount of compression is reached first: the band, the drive above the lowest rung, the level there. */
export function firstOnsets({ onset, bandsHz }: Ladder): SettingConclusion['onsets'] {
  return onset.flatMap(({ compressionDb, driveDb, outputDb }) => {
    let first = -1;
    driveDb.forEach((drive, band) => {
      if (drive !== null && (first < 0 || drive < (driveDb[first] as number))) first = band;
    });
    if (first < 0) return [];
    const [drive, level] = [driveDb[first] as number, outputDb[first]];
    return [{ compressionDb, bandHz: nominalHz(bandsHz[first]), driveDb: drive, levelDb: level }];
  });
}
