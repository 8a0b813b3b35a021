import { nominalHz } from '../model/octaves';
import type { SettingView } from './session';

/** Where each amount of compression is reached first: nominal band, drive as the runs name it. */
export function onsetsOf({
  conclusion,
  ladder,
}: SettingView): { compressionDb: number; hz: number; driveDb: number }[] {
  const lowestDb = ladder?.rungs[0]?.driveDb ?? 0;
  return (conclusion?.onsets ?? []).map(({ compressionDb, bandHz, driveDb }) => ({
    compressionDb,
    hz: nominalHz(bandHz),
    driveDb: lowestDb + driveDb,
  }));
}
