import type { Distortion, SettingConclusion } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import { passedFromStart } from './passedFromStart';

/** Where THD passes each percentage first: the band, the drive above the lowest rung, the level of the fundamental there. */
export function firstPasses(distortion: Distortion): SettingConclusion['passes'] {
  const { bandsHz, passes } = distortion;
  return passes.flatMap((pass) => {
    const { percent, driveDb, levelDb, reached } = pass;
    let first = -1;
    driveDb.forEach((drive, band) => {
      if (drive !== null && reached[band] && (first < 0 || drive < (driveDb[first] as number))) first = band;
    });
    if (first < 0) return [];
    const [drive, level] = [driveDb[first] as number, levelDb[first]];
    const atMost = passedFromStart(distortion, pass, first);
    return [{ percent, bandHz: nominalHz(bandsHz[first]), driveDb: drive, levelDb: level, atMost }];
  });
}
