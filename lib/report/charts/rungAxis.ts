import { formatShort } from '../format';
import type { Frame } from './frame';

/**
 * Vertical axis with a row for each rung, the quietest at the bottom; rows that are too low for lettering share a label.
 *
 * @param drivesDb of the rungs, above the quietest.
 */
export function rungAxisOption({ top, bottom, layout, palette }: Frame, drivesDb: number[]): object {
  const every = Math.max(1, Math.ceil((layout.fontSize * 1.2 * drivesDb.length) / (bottom - top)));
  return {
    type: 'value',
    min: -0.5,
    max: drivesDb.length - 0.5,
    axisLine: { show: false },
    axisTick: { show: false },
    splitLine: { show: false },
    axisLabel: {
      color: palette.muted,
      fontSize: layout.fontSize,
      margin: 6,
      customValues: drivesDb.flatMap((_, k) => (k % every === 0 ? [k] : [])),
      formatter: (k: number) => (drivesDb[k] === undefined ? '' : driveText(drivesDb[k])),
    },
  };
}

/** '+12', and '0' for the quietest run. */
export function driveText(driveDb: number): string {
  return driveDb > 0 ? `+${formatShort(driveDb)}` : formatShort(driveDb);
}
