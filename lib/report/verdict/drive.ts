import { formatShort, NO_BREAK } from '../format';
import type { SettingView } from '../session';

/** '+12 dB' above the quietest run. */
export function formatDrive(aboveLowestDb: number): string {
  return `${aboveLowestDb > 0 ? '+' : ''}${formatShort(aboveLowestDb)}${NO_BREAK}dB`;
}

/** 'the quietest run', 'the loudest run (+24 dB)', 'the run at +3 dB'. */
export function nameRun(view: SettingView, driveDb: number | undefined): string {
  if (driveDb === undefined) return 'the one run';
  const above = driveDb - view.lowestDriveDb;
  const drives = [
    ...view.curves.map((curve) => curve.about.driveDb),
    ...view.fits.map((fit) => fit.about.driveDb),
  ].filter((drive) => drive !== undefined);
  if (drives.every((drive) => drive === driveDb)) return 'the one run';
  if (above === 0) return 'the quietest run';
  return driveDb === Math.max(...drives)
    ? `the loudest run (${formatDrive(above)})`
    : `the run at ${formatDrive(above)}`;
}
