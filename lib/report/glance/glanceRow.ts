import { type Caveat, isDoubted, isUnusable } from '../../model/caveat';
import type { ReportWords } from '../../words/reportWords';
import type { SettingView } from '../session';

/** A row of the table at a glance: its name and the cell of each setting. */
export type GlanceRow = [name: string, cell: (view: SettingView) => string | null];

/** Nominal third-octave bands that levels are quoted at, Hz. */
export const QUOTED_HZ = [20, 25, 31.5, 40, 50, 63];

/** A value, marked where something speaks against it. */
export function flagged(text: string, finding: { caveats: Caveat[] }, { page }: ReportWords): string {
  if (isUnusable(finding)) return page.glanceTable.unusable(text);
  return isDoubted(finding) ? page.glanceTable.doubted(text) : text;
}

export function distinct<T>(values: T[]): T[] {
  return [...new Set(values)];
}
