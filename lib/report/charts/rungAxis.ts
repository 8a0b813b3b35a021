import type { ReportWords } from '../../words/reportWords';
import type { Frame } from './frame';

/** Behind the name of what rests on a bad capture. */
export const BAD_MARK = '×';

/**
 * Vertical axis with a row for each rung, the quietest at the bottom; rows that are too low for lettering share a label.
 *
 * @param labels of the rungs, lowest first; see {@link rungLabels}.
 */
export function rungAxisOption({ top, bottom, layout, palette }: Frame, labels: string[]): object {
  const every = Math.max(1, Math.ceil((layout.fontSize * 1.2 * labels.length) / (bottom - top)));
  return {
    type: 'value',
    min: -0.5,
    max: labels.length - 0.5,
    axisLine: { show: false },
    axisTick: { show: false },
    splitLine: { show: false },
    axisLabel: {
      color: palette.muted,
      fontSize: layout.fontSize,
      margin: 6,
      customValues: labels.flatMap((_, k) => (k % every === 0 ? [k] : [])),
      formatter: (k: number) => labels[k] ?? '',
    },
  };
}

/** '+12' for each rung, '+12 ×' for one whose capture is bad. @param drivesDb as the runs name them. */
export function rungLabels({ chart }: ReportWords, drivesDb: number[], bad: boolean[] = []): string[] {
  return drivesDb.map((drive, k) => (bad[k] ? `${chart.driveNumber(drive)} ${BAD_MARK}` : chart.driveNumber(drive)));
}
