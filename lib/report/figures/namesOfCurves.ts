import type { Curve } from '../../model/curve';
import type { ReportWords } from '../../words/reportWords';
import { plainName } from '../text';

/** A short name for each of some curves: what tells them apart of unit, setting, drive and role; their labels where that is not enough. */
export function namesOfCurves(curves: Curve[], { figure, chart }: ReportWords): string[] {
  const parts = curves.map(({ about, role, order }) => [
    plainName(about.device ?? ''),
    plainName(about.setting ?? ''),
    about.driveDb === undefined ? '' : figure.run(about.driveDb),
    role === 'noise' ? chart.noise : role === 'harmonic' && order !== undefined ? chart.harmonic(order) : '',
  ]);
  const differs = (part: number): boolean => new Set(parts.map((one) => one[part])).size > 1;
  const names = parts.map((one) => one.filter((text, part) => text && differs(part)).join(' '));
  const isEnough = names.every(Boolean) && new Set(names).size === names.length;
  return isEnough ? names : curves.map(({ label }) => plainName(label));
}
