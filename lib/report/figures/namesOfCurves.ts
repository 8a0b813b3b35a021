import type { ReportWords } from '../../words/reportWords';
import { plainName } from '../text';
import type { Named } from './named';

const ROLE = 3;

/** A short name for each of some curves or captures: what tells them apart of unit, setting, drive and role; their labels where that is not enough. */
export function namesOfCurves(curves: Named[], { figure, chart }: ReportWords): string[] {
  const parts = curves.map(({ about, role, order }) => [
    plainName(about.device ?? ''),
    plainName(about.setting ?? ''),
    about.driveDb === undefined ? '' : figure.run(about.driveDb),
    role === 'noise' ? chart.noise : role === 'harmonic' && order !== undefined ? chart.harmonic(order) : '',
  ]);
  const differs = (part: number): boolean => new Set(parts.flatMap((one) => one[part] || [])).size > 1 || part === ROLE;
  const names = parts.map((one) => one.filter((text, part) => text && differs(part)).join(' '));
  const isEnough = names.every(Boolean) && new Set(names).size === names.length;
  return isEnough ? names : curves.map(({ label }) => plainName(label));
}
